import '../../style/ways.css';
import type { PlanDocument } from '@ladlework/planner';
import { useMemo } from 'preact/hooks';
import { hashOf, type WaysPart } from '../../shell/route.ts';
import { Gone } from '../Gone.tsx';
import { Trouble } from '../trouble.tsx';
import { FindPart } from './FindPart.tsx';
import { MaltPart } from './MaltPart.tsx';
import { documentForWays } from './of-brew.ts';
import { withPrices } from './prices.ts';
import { SideBySide } from './SideBySide.tsx';
import { SizePart } from './SizePart.tsx';
import { TastingPart } from './TastingPart.tsx';
import { WhatIfPart } from './WhatIfPart.tsx';

const PARTS: readonly { readonly part: WaysPart; readonly name: string }[] = [
  { part: 'side', name: 'Side by side' },
  { part: 'find', name: 'Find a plan' },
  { part: 'kit', name: 'What if' },
  { part: 'malt', name: 'Instead of boiling' },
  { part: 'tasting', name: 'Blind tasting' },
  { part: 'size', name: 'On another kit' },
];

/** What else could be done with this beer, this kit, this day. */
export function WaysPage({ id, part }: { id: string; part: WaysPart }) {
  const planned = documentForWays(id);
  const found = planned === undefined ? undefined : withPrices(planned);
  // A document read anew is equal, not the same; the engine must not be asked again for that.
  const document = useMemo(() => found, [JSON.stringify(found)]);
  if (document === undefined) return <Gone what="brew" back="#/brews" />;
  return (
    <>
      <header class="head">
        <div>
          <h1>Ways to brew it</h1>
          <p>
            {document.beer.name} on {document.kit.name}
          </p>
        </div>
        <div class="row noprint">
          <a class="btn" href={hashOf(id === 'new' ? { at: 'new-brew' } : { at: 'plan', id })}>
            {id === 'new' ? 'Back to the new brew' : 'Back to the plan'}
          </a>
        </div>
      </header>
      <Trouble />
      {PARTS.length > 1 && (
        <nav class="parts noprint" aria-label="Questions">
          {PARTS.map((p) => (
            <a
              key={p.part}
              href={hashOf({ at: 'ways', id, part: p.part })}
              aria-current={p.part === part ? 'page' : undefined}
            >
              {p.name}
            </a>
          ))}
        </nav>
      )}
      <Part id={id} part={part} document={document} />
    </>
  );
}

interface PartProps {
  readonly id: string;
  readonly part: WaysPart;
  readonly document: PlanDocument;
}

function Part({ id, part, document }: PartProps) {
  switch (part) {
    case 'side':
      return <SideBySide document={document} />;
    case 'find':
      return <FindPart id={id} document={document} />;
    case 'kit':
      return <WhatIfPart document={document} />;
    case 'malt':
      return <MaltPart id={id} document={document} />;
    case 'tasting':
      return <TastingPart beer={document.beer} />;
    case 'size':
      return <SizePart document={document} />;
  }
}
