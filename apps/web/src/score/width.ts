import { type Signal, useSignal } from '@preact/signals';
import type { RefObject } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';

/** Width of an element as it is laid out [px]; 0 before it is. */
export function useWidth<E extends HTMLElement>(): {
  box: RefObject<E | null>;
  width: Signal<number>;
} {
  const box = useRef<E>(null);
  const width = useSignal(0);
  useLayoutEffect(() => {
    const element = box.current;
    if (element === null) return;
    const watch = new ResizeObserver(([entry]) => {
      if (entry !== undefined) width.value = Math.floor(entry.contentRect.width);
    });
    watch.observe(element);
    width.value = Math.floor(element.getBoundingClientRect().width);
    return () => watch.disconnect();
  }, [width]);
  return { box, width };
}
