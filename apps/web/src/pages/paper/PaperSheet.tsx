import { type Mark, MM_PER_PT, PAPER, type PaperPage } from '@ladlework/paper';

/** One page of paper, drawn as it prints. */
export function PaperSheet({ page }: { page: PaperPage }) {
  const [width, height] = PAPER[page.size];
  return (
    <figure class={`paper-sheet ${page.size}`}>
      <svg viewBox={`0 0 ${width} ${height}`} role="img" aria-label={page.title}>
        {page.marks.map((mark, n) => (
          // Marks have no names of their own, and a page is drawn once.
          <Drawn key={`${n}.${mark.kind}`} mark={mark} />
        ))}
      </svg>
    </figure>
  );
}

const ANCHOR = { start: 'start', middle: 'middle', end: 'end' } as const;

function Drawn({ mark }: { mark: Mark }) {
  switch (mark.kind) {
    case 'line':
      return (
        <line
          x1={mark.x1}
          y1={mark.y1}
          x2={mark.x2}
          y2={mark.y2}
          stroke-width={mark.widthMm}
          stroke-dasharray={mark.dashed ? '1.4 1' : undefined}
        />
      );
    case 'box':
      return (
        <rect
          x={mark.x}
          y={mark.y}
          width={mark.w}
          height={mark.h}
          stroke-width={mark.widthMm}
          class={mark.shaded ? 'shaded' : undefined}
        />
      );
    case 'text':
      return (
        <text
          x={mark.x}
          y={mark.y}
          font-size={mark.sizePt * MM_PER_PT}
          font-weight={mark.bold ? 700 : 400}
          text-anchor={ANCHOR[mark.anchor]}
        >
          {mark.text}
        </text>
      );
  }
}
