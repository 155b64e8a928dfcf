import type { Kit, Move, PullWay } from '@ladlework/brewhouse';
import type { ChosenMend } from '@ladlework/contract';
import type { BrewState } from '@ladlework/log';
import type { Plan } from '@ladlework/planner';
import { mayPress } from '../data/access.ts';
import { attempt } from '../pages/trouble.tsx';
import { traceAt } from '../score/trace-at.ts';
import { begin, finish, iodineTested, portionsIn, repairDone, withdraw } from './actions.ts';
import type { Box } from './boxes.ts';
import { planMinute } from './expect.ts';
import { through } from './gate/GateSheet.tsx';
import { gateBefore } from './gate/gates.ts';
import { portionOf } from './guide-text.ts';
import { IodineLines } from './IodineLines.tsx';
import type { IodineAsk } from './iodine.ts';
import { layout, onePart } from './layout.ts';
import type { Live } from './live.ts';
import { MendCard } from './MendCard.tsx';
import { NowCard } from './NowCard.tsx';
import type { Offered } from './probe-standing.ts';
import { ReadPad } from './ReadPad.tsx';
import type { Run, RunMove } from './run.ts';
import type { RescueAnswer } from './useRescue.ts';
import { Why } from './Why.tsx';

interface Props {
  readonly brew: BrewState;
  readonly run: Run;
  /** The move on top of the screen. */
  readonly focus: RunMove | undefined;
  /** A repair that was picked and is still to do goes before it. */
  readonly mend: ChosenMend | undefined;
  readonly now: number;
  readonly plan: Plan | undefined;
  readonly kit: Kit | undefined;
  readonly live: Live;
  /** The iodine test that is wanted, or that was blue, and what clears it. */
  readonly iodine: IodineAsk | undefined;
  readonly rescue: RescueAnswer | undefined;
  /** The return under way. */
  readonly returning: string | undefined;
  /** What a live probe shows of a box. */
  readonly probed: (box: Box) => Offered | undefined;
  readonly onMiss: (() => void) | undefined;
}

/** The top of the screen: what to do, and the pad for the reading it needs. */
export function Now(props: Props) {
  const { brew, run, focus, mend, now, plan, kit, live, returning, iodine } = props;
  if (focus === undefined && mend === undefined)
    return (
      <p class="note">{onePart.value ? 'Nothing more is yours today.' : 'Nothing is planned.'}</p>
    );
  const move = moveOf(plan, focus?.move.id);
  const tun = mend === undefined ? undefined : mendedVessel(brew, mend);
  return (
    <div class="now">
      {mend !== undefined ? (
        <MendCard
          mend={mend}
          nowMs={now}
          after={live.outlook?.mended?.find((v) => v.vessel === tun)}
          onDone={() => attempt('write it down', () => repairDone(brew, mend.eventId))}
          onOther={() =>
            attempt('take it back', () => withdraw(brew, mend.eventId, 'another way was taken'))
          }
        />
      ) : (
        focus !== undefined && (
          <NowCard
            brew={brew}
            run={run}
            focus={focus}
            move={move}
            kit={kit}
            nowMs={now}
            cautions={plan?.cautions.filter((c) => c.moveId === focus.move.id) ?? []}
            way={wayNow(plan, live, focus.move.id)}
            guide={returning === focus.move.id ? live.here?.guide : undefined}
            // A helper does what stands there; where it lands is the brewer's to watch.
            landing={layout.value === 'helper' ? undefined : live.here?.landing}
            landingPortion={landingPortion(plan, kit, live)}
            likely={live.outlook?.forecast.moves.find((m) => m.moveId === focus.move.id)}
            onMiss={props.onMiss}
            onBegin={() =>
              through(brew, gateBefore(brew, focus.move, kit), () => begin(brew, run, focus))
            }
            onDone={() => attempt('write it down', () => finish(brew, run, focus))}
            onPortions={(count) =>
              attempt('write it down', () => portionsIn(brew, focus.move.id, count))
            }
          >
            {layout.value === 'helper' && <Why brew={brew} focus={focus} />}
            {kit !== undefined && iodine !== undefined && (
              <IodineLines
                kit={kit}
                ask={iodine}
                rescue={props.rescue}
                onTested={(blue) =>
                  attempt('write it down', () => iodineTested(brew, iodine.vessel, blue))
                }
              />
            )}
          </NowCard>
        )
      )}
      {kit !== undefined && layout.value !== 'wall' && mayPress('reading') && (
        <ReadPad
          brew={brew}
          kit={kit}
          preferred={tun ?? padVessel(move, focus)}
          returning={returning}
          probed={props.probed}
          vessels={live.here?.vessels}
          plannedC={(vessel) =>
            plan === undefined ? undefined : traceAt(plan.trace, vessel, planMinute(brew, now))
          }
        />
      )}
    </div>
  );
}

const moveOf = (plan: Plan | undefined, id: string | undefined): Move | undefined =>
  plan?.moves.find((m) => m.move.id === id)?.move;

/** How a pull is taken from the mash as it is likely to stand by then; as planned until that is known. */
function wayNow(plan: Plan | undefined, live: Live, id: string): PullWay | undefined {
  const ahead = live.outlook?.ahead.trace.moves.find((m) => m.id === id)?.transfer?.way;
  return ahead ?? plan?.moves.find((m) => m.move.id === id)?.way;
}

/** The thermometer wanted next: the tun for what goes into it, the pot for what boils. */
const padVessel = (move: Move | undefined, focus: RunMove | undefined): string =>
  move?.kind === 'pull' ? move.from : (focus?.move.vessel ?? '');

/** Where the mash stands that a repair is for. */
function mendedVessel(brew: BrewState, mend: ChosenMend): string | undefined {
  const landing = brew.mends.find((m) => m.eventId === mend.eventId)?.moveId;
  return brew.planSummary?.moves.find((m) => m.id === landing)?.vessel;
}

function landingPortion(plan: Plan | undefined, kit: Kit | undefined, live: Live) {
  const move = moveOf(plan, live.here?.landing?.returnId);
  return kit === undefined || move === undefined || !('route' in move)
    ? undefined
    : portionOf(kit, move.route);
}
