import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { reasonOf } from './data/house.ts';

/**
 * A page whose code is fetched when it is first shown, so that the first view stays small. The
 * service worker keeps the file with the rest, so it comes without the network too.
 *
 * @param load imports the page
 */
export function later<P extends object>(load: () => Promise<ComponentType<P>>): ComponentType<P> {
  let here: ComponentType<P> | undefined;
  return (props: P) => {
    const [page, setPage] = useState<{ readonly Page: ComponentType<P> | undefined }>({
      Page: here,
    });
    const [why, setWhy] = useState<string | undefined>(undefined);
    useEffect(() => {
      if (here !== undefined) return;
      load().then(
        (loaded) => {
          here = loaded;
          setPage({ Page: loaded });
        },
        (error: unknown) => setWhy(reasonOf(error)),
      );
    }, []);
    if (why !== undefined)
      return (
        <p class="wrong" role="alert">
          <b>This page did not come.</b> {why} Load the page again.
        </p>
      );
    const { Page } = page;
    return Page === undefined ? <p role="status">One moment …</p> : <Page {...props} />;
  };
}
