import type { Kit } from '@ladlework/brewhouse';
import type { Mash, PlannedReturn } from '@ladlework/planner';
import { show, showBand } from '../units/show.ts';
import { nameIn } from '../units/words.ts';
import { BandStrip } from './BandStrip.tsx';
import { dipText } from './dip.ts';

interface Props {
  readonly ret: PlannedReturn;
  readonly kit: Kit;
  readonly mash: Mash;
}

/** One pull and its return, in the brewer's measures. */
export function ReturnPanel({ ret, kit, mash }: Props) {
  const routeId = mash.pullRoute ?? kit.routes[0]?.id;
  const route = kit.routes.find((r) => r.id === routeId);
  const raise = mash.raises[ret.pull - 1];
  const thick =
    raise?.by === 'decoction' && typeof raise.thickness === 'string' ? raise.thickness : '';
  return (
    <article class="return" aria-label={`Pull ${ret.pull}`}>
      <header>
        <h3>Pull {ret.pull}</h3>
        <p>
          {show('temperature', ret.restC, 0)} → {show('temperature', ret.targetC, 0)}{' '}
          <span class="soft">{thick.replaceAll('-', ' ')}</span>
        </p>
      </header>
      <p class="take">
        <b>{show('volume', ret.takeL)}</b>
        {route !== undefined && (
          <span>
            {' '}
            = {portions(ret.portions)} {plural(route.how, ret.portions)}
          </span>
        )}
      </p>
      <dl class="facts">
        <Fact name="needed" value={showBand('volume', ret.pullL)} />
        <Fact name="by weight" value={showBand('mass', ret.pullKg)} />
        <Fact
          name="share of the mash"
          value={`${pct(ret.pullShare.low)}–${pct(ret.pullShare.likely)}–${pct(ret.pullShare.high)} %`}
        />
        <Fact name="reserve above it" value={showBand('volume', ret.reserveL)} />
        {ret.potLoads.map((load) => (
          <Fact
            key={load.vessel}
            name={nameIn(kit, load.vessel)}
            value={`${show('volume', load.litres)}, ${dipText(kit, load.vessel, load.litres)}`}
          />
        ))}
        <Fact name="away" value={showBand('duration', ret.awayMin)} />
        <Fact name="tun before the return" value={showBand('temperature', ret.tunBeforeC)} />
        <Fact name="pull arrives at" value={showBand('temperature', ret.arrivalC)} />
      </dl>
      <BandStrip
        label={`Landing of pull ${ret.pull}: unread ${showBand('temperature', ret.landingC)}, read and stopped ${showBand('temperature', ret.guidedLandingC)}, textbook ${show('temperature', ret.textbookC)}, wanted ${show('temperature', ret.targetC)}`}
        target={ret.targetC}
        rows={[
          { label: 'read, stopped', band: ret.guidedLandingC, strong: true },
          { label: 'returned unread', band: ret.landingC },
        ]}
        ring={{ label: 'textbook pull', c: ret.textbookC }}
      />
    </article>
  );
}

function Fact({ name, value }: { name: string; value: string }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{value}</dd>
    </div>
  );
}

const pct = (share: number): string => String(Math.round(share * 100));
const portions = (n: number): string => String(Math.round(n * 10) / 10);
const plural = (how: string, n: number): string =>
  how === 'pump' || how === 'gravity' ? 'minutes of flow' : n === 1 ? how : `${how}s`;
