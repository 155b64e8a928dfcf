import { type Kit, nameIn, pullWayText, type Route, thicknessText } from '@ladlework/brewhouse';
import type { Mash, Plan, PlannedReturn } from '@ladlework/planner';
import { say } from '../../units/say.ts';
import { inPair, show, showBand } from '../../units/show.ts';
import { BandStrip } from '../BandStrip.tsx';
import { dipText } from '../dip.ts';
import { Fact } from '../Fact.tsx';
import { pullRoute, returnOrder } from './return-order.ts';

interface Props {
  readonly ret: PlannedReturn;
  readonly plan: Plan;
  readonly kit: Kit;
  readonly mash: Mash;
}

/** One pull and its return, in the brewer's measures. */
export function ReturnPanel({ ret, plan, kit, mash }: Props) {
  const route = pullRoute(kit, mash);
  const raise = mash.raises.filter((r) => r.by === 'decoction')[ret.pull - 1];
  const loads = ret.potLoads;
  return (
    <article class="return" aria-label={`Pull ${ret.pull}`}>
      <header>
        <h3>Pull {ret.pull}</h3>
        <p>
          {show('temperature', ret.restC, 0)} → {show('temperature', ret.targetC, 0)}{' '}
          {raise?.by === 'decoction' && (
            <span class="soft">{thicknessText(raise.thickness, say)}</span>
          )}
        </p>
      </header>
      <p class="take">
        <b>{show('volume', ret.takeL)}</b>
        <span>
          {route !== undefined && portionsText(route, ret.portions)}
          {loads.length > 1 && (
            <>
              <br />
              {loads.length} pot loads
            </>
          )}
        </span>
      </p>
      <ul class="loads">
        {loads.map((load, i) => (
          <li key={`${load.vessel}${i}`}>
            {nameIn(kit, load.vessel)} <b>{dipText(kit, load.vessel, load.litres)}</b>
            {loads.length > 1 && <span class="soft"> {show('volume', load.litres)}</span>}
          </li>
        ))}
      </ul>
      <Ways ret={ret} plan={plan} kit={kit} />
      {route !== undefined && <Order ret={ret} plan={plan} route={route} />}
      <BandStrip
        label={`Landing of pull ${ret.pull}: unread ${showBand('temperature', ret.landingC)}, read and stopped ${showBand('temperature', ret.guidedLandingC)}, textbook ${show('temperature', ret.textbookC)}, wanted ${show('temperature', ret.targetC)}`}
        target={ret.targetC}
        rows={[
          { label: 'read, stopped', band: ret.guidedLandingC, strong: true },
          { label: 'returned unread', band: ret.landingC },
        ]}
        ring={{ label: 'textbook pull', c: ret.textbookC }}
      />
      <dl class="facts">
        <Fact name="needed" value={showBand('volume', ret.pullL)} />
        <Fact name="by weight" value={showBand('mass', ret.pullKg)} />
        <Fact
          name="share of the mash"
          value={`${pct(ret.pullShare.low)}–${pct(ret.pullShare.likely)}–${pct(ret.pullShare.high)} %`}
        />
        <Fact name="reserve above the need" value={showBand('volume', ret.reserveL)} />
        <Fact name="away from the tun" value={showBand('duration', ret.awayMin)} />
        <Fact name="tun before the return" value={showBand('temperature', ret.tunBeforeC)} />
        <Fact name="pull arrives at" value={showBand('temperature', ret.arrivalC)} />
      </dl>
    </article>
  );
}

/** What the hands do to get each load as thick as it is asked for. */
function Ways({ ret, plan, kit }: { ret: PlannedReturn; plan: Plan; kit: Kit }) {
  const ways = ret.moveIds.pull.flatMap((id) => {
    const planned = plan.moves.find((m) => m.move.id === id);
    return planned?.way === undefined || planned.move.kind !== 'pull'
      ? []
      : [{ id, to: planned.move.to, text: inPair(pullWayText(planned.way)) }];
  });
  const many = ways.length > 1;
  return (
    <ul class="plain-list ways" aria-label="How to take it">
      {ways.map(({ id, to, text }) => (
        <li key={id}>
          {many && <b>{nameIn(kit, to)}: </b>}
          {text}
        </li>
      ))}
    </ul>
  );
}

/** Most of it, a reading, then litre by litre: the handbook's order in this kit's portions. */
function Order({ ret, plan, route }: { ret: PlannedReturn; plan: Plan; route: Route }) {
  const order = returnOrder(ret, route.portionL, plan);
  return (
    <ol class="order">
      <li>
        Return the first <b>{portionsText(route, order.first)}</b>, {show('volume', order.firstL)}
        {order.firstC !== undefined && (
          <span class="soft"> to about {show('temperature', order.firstC)}</span>
        )}
        . Stir, read in three places.
      </li>
      {order.stepL !== undefined && (
        <li>
          Then <b>{show('volume', order.stepL)}</b> for each {show('temperatureDifference', 0.5)}{' '}
          still wanted; read after each.
        </li>
      )}
      <li>
        Stop at <b>{show('temperature', ret.targetC)}</b>. What is left cools in the pot and goes
        back later.
      </li>
    </ol>
  );
}

const pct = (share: number): string => String(Math.round(share * 100));

function portionsText(route: Route, n: number): string {
  const count = String(Math.round(n * 10) / 10);
  if (route.how === 'pump' || route.how === 'gravity') return `${count} min of flow`;
  return `${count} ${n === 1 ? route.how : `${route.how}s`}`;
}
