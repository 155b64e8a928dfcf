/** After a miss: the ways out that stand there, each simulated, and why the others do not. */
import { volumeOf } from '@ladlework/brewhouse';
import { band, findRoot, quantile } from '@ladlework/numerics';
import { PLANNED_HEADSPACE } from './day.ts';
import type { Repair } from './live.ts';
import { thermalIn } from './live-assimilate.ts';
import { allTo } from './live-going-on.ts';
import { meansOf, mendMoves, type RepairMeans, type RepairOrder } from './live-mend.ts';
import type { DaySession } from './live-session.ts';
import { meanParticle, type Particle, thinned, vesselIn } from './live-step.ts';
import type { Band } from './plan.ts';

/** Particles behind each repair's band. */
const SUBSET = 80;
/** A landing this near the target is a hit; nearer is not better [K]. */
const HIT_K = 0.3;
/** A miss smaller than this is not worth liquor or another pull [K]. @source field.md 3 */
const WORTH_K = 0.5;
/** Direct heat stirred by hand: longest anyone does it [min]. */
const LONGEST_HEAT_MIN = 90;

/**
 * Ways out of a miss from what stands there now.
 * @param session the day
 * @param nowMin [min after day start]
 * @param targetC wanted in the tun [°C], 20-100
 * @returns possible ones first, by how close and how quick; then those that are not, with the reason
 * @throws RangeError when targetC is outside its range
 */
export function repairsFor(session: DaySession, nowMin: number, targetC: number): Repair[] {
  if (!(targetC >= 20 && targetC <= 100))
    throw new RangeError(`targetC ${targetC}: allowed 20 to 100 °C`);
  const now = thinned(allTo(session, nowMin), SUBSET);
  const bench = new Bench(now, targetC);
  const offers = bench.offers();
  const miss = (r: Repair) => Math.max(0, Math.abs(r.missK) - HIT_K);
  return offers.sort(
    (a, b) => Number(b.possible) - Number(a.possible) || miss(a) - miss(b) || a.minutes - b.minutes,
  );
}

interface Played {
  readonly landingC: number;
  readonly minutes: number;
  readonly mashL: number;
}

class Bench {
  private readonly now: DaySession;
  private readonly targetC: number;
  private readonly means: RepairMeans;
  private readonly tun: string;
  private readonly low: boolean;
  /** The mean of the ensemble: amounts are found on it. */
  private readonly middle: Particle;
  private readonly tunC: Band;

  constructor(now: DaySession, targetC: number) {
    this.now = now;
    this.targetC = targetC;
    this.means = meansOf(now);
    this.tun = now.day.restTun.id;
    this.tunC = band(now.particles.map((p) => vesselIn(p, this.tun).tempC));
    this.low = this.tunC.likely < targetC;
    this.middle = meanParticle(now.particles);
  }

  offers(): Repair[] {
    const offers = [this.accept(), this.settle()];
    if (Math.abs(this.tunC.likely - this.targetC) < WORTH_K) return offers;
    if (this.low)
      offers.push(this.reserve(), this.boilingLiquor(), this.smallPull(), this.directHeat());
    else offers.push(this.holdBack(), this.coldLiquor());
    return offers;
  }

  private accept(): Repair {
    return this.offer({ code: 'accept' }, 'Go on as it is', 0);
  }

  private settle(): Repair {
    const text = 'Stir, wait 5 minutes and read again: the first reading may be a plume';
    return this.offer({ code: 'wait-and-stir' }, text, 1);
  }

  private holdBack(): Repair {
    const order = { code: 'hold-back' } as const;
    const { reserve } = this.means;
    if (!reserve) return this.refuse(order, 'Hold the rest back', 'nothing is left to hold back');
    const litres = this.contentL(reserve.id);
    const text = `Stop and keep the ${litres.toFixed(0)} L in ${reserve.name}; cool it before it goes back`;
    return this.offer({ ...order, amountL: litres }, text, 0);
  }

  private reserve(): Repair {
    const order: RepairOrder = { code: 'last-of-reserve', targetC: this.targetC };
    const { reserve } = this.means;
    const text = 'Return what was kept back';
    if (!reserve) return this.refuse(order, text, 'nothing was kept back');
    const hot = vesselIn(this.middle, reserve.id).tempC;
    if (hot <= this.tunC.likely + 1)
      return this.refuse(order, text, `what ${reserve.name} holds is no warmer than the mash`);
    const mostL = this.contentL(reserve.id) - reserve.deadL;
    const found = this.amount(order.code, 0.2, Math.max(0.3, mostL));
    const amountL = found ?? mostL;
    return this.offer(
      { ...order, amountL },
      `Return ${amountL.toFixed(0)} L more of what was kept back`,
      this.routeHands(),
      this.roomFor(amountL),
    );
  }

  private boilingLiquor(): Repair {
    const code = 'boiling-liquor';
    const { liquor } = this.means;
    const text = 'Pour in boiling liquor';
    if (!liquor) return this.refuse({ code }, text, 'no vessel is free to boil liquor');
    if (!liquor.burner) return this.refuse({ code }, text, `no burner heats ${liquor.vessel.name}`);
    const roomL = this.roomL();
    const mostL = Math.min(2 * this.now.day.tun.brimL, liquor.vessel.brimL * 0.9);
    const amountL = this.amount(code, 0.5, mostL);
    if (amountL === undefined)
      return this.refuse({ code }, text, 'no amount of boiling liquor gets there');
    const fits = amountL <= roomL;
    const litres = fits ? amountL : roomL;
    if (litres < 1) return this.refuse({ code }, text, 'the tun is full');
    const better = fits
      ? `Pour in ${litres.toFixed(0)} L of boiling liquor`
      : `Pour in ${litres.toFixed(0)} L of boiling liquor, all the tun takes; ${amountL.toFixed(0)} L would be needed`;
    return this.offer({ code, amountL: litres }, better, 1);
  }

  private coldLiquor(): Repair {
    const code = 'cold-liquor';
    const text = 'Stir in cold liquor';
    const amountL = this.amount(code, 0.1, 2 * this.now.day.tun.brimL);
    if (amountL === undefined)
      return this.refuse({ code }, text, 'the liquor is not colder than the target');
    return this.offer(
      { code, amountL },
      `Stir in ${amountL.toFixed(0)} L of cold liquor`,
      1,
      this.roomFor(amountL),
    );
  }

  private smallPull(): Repair {
    const code = 'small-pull';
    const { pot, reserve } = this.means;
    const text = 'Boil a small second pull; it adds no water';
    if (!pot)
      return this.refuse(
        { code },
        text,
        reserve ? `${reserve.name} still holds mash` : 'no pot on a burner is free',
      );
    const mashL = this.contentL(this.tun);
    const roomL = pot.vessel.brimL * (1 - PLANNED_HEADSPACE);
    const mostL = Math.min(roomL, 0.9 * mashL);
    const amountL = this.amount(code, 1, mostL);
    if (amountL === undefined) {
      const most = this.play({ code, amountL: mostL }, this.middle).landingC;
      const why =
        roomL < 0.9 * mashL
          ? `${pot.vessel.name} boils ${roomL.toFixed(0)} L at most, which lands at ${most.toFixed(1)} °C`
          : `even ${mostL.toFixed(0)} L lands at ${most.toFixed(1)} °C`;
      return this.refuse({ code, amountL: mostL }, text, why);
    }
    return this.offer(
      { code, amountL },
      `Pull ${amountL.toFixed(0)} L more, boil it and return it; it adds no water`,
      this.routeHands(),
    );
  }

  private directHeat(): Repair {
    const order = { code: 'direct-heat', targetC: this.targetC } as const;
    const { tunBurner } = this.means;
    const text = 'Heat the mash where it stands, stirring';
    if (!tunBurner) return this.refuse(order, text, `no burner heats ${this.now.day.restTun.name}`);
    const { minutes, landingC } = this.play(order, this.middle);
    if (landingC < this.targetC - HIT_K || minutes > LONGEST_HEAT_MIN)
      return this.refuse(order, text, `${tunBurner.name} does not get it there`);
    return this.offer(order, `${text}, about ${minutes.toFixed(0)} min`, 1);
  }

  /** Plays a repair on one particle. */
  private play(order: RepairOrder, particle: Particle): Played {
    const { now, tun } = this;
    const moves = mendMoves(now, order);
    if (moves.length === 0) return { ...this.standing(particle), minutes: 0 };
    const trace = now.stepper.simulate(particle, moves);
    let end = now.lastMin;
    for (const m of trace.moves) end = Math.max(end, m.endMin);
    const landed = trace.moves.filter((m) => m.vessels.at(-1) === tun).at(-1);
    const state = trace.end.vessels.find((s) => s.vessel === tun);
    return {
      landingC: landed?.toC ?? vesselIn(particle, tun).tempC,
      minutes: end - now.lastMin,
      mashL: state ? volumeOf(state, thermalIn(now.day, tun, particle.draw)) : 0,
    };
  }

  private standing(particle: Particle) {
    const state = vesselIn(particle, this.tun);
    return {
      landingC: state.tempC,
      mashL: volumeOf(state, thermalIn(this.now.day, this.tun, particle.draw)),
    };
  }

  /** The amount that lands the middle particle on the target; undefined when none does. */
  private amount(code: Repair['code'], leastL: number, mostL: number): number | undefined {
    if (!(mostL > leastL)) return undefined;
    const miss = (amountL: number) =>
      this.play({ code, amountL }, this.middle).landingC - this.targetC;
    const root = findRoot(miss, leastL, mostL, { fTolerance: 0.01, xTolerance: 0.01 });
    return root.ok ? root.x : undefined;
  }

  private offer(order: RepairOrder, text: string, hands: number, whyNot?: string): Repair {
    const played = this.now.particles.map((p) => this.play(order, p));
    const landingC = band(played.map((x) => x.landingC));
    return {
      code: order.code,
      text,
      ...(order.amountL === undefined ? {} : { amountL: order.amountL }),
      minutes: quantile(
        played.map((x) => x.minutes),
        0.5,
      ),
      landingC,
      missK: landingC.likely - this.targetC,
      mashL: quantile(
        played.map((x) => x.mashL),
        0.5,
      ),
      liquorLPerKg: this.thickness(order),
      hands,
      possible: whyNot === undefined,
      ...(whyNot === undefined ? {} : { whyNot }),
    };
  }

  /** What cannot be done, beside where the mash then stays. */
  private refuse(order: RepairOrder, text: string, whyNot: string): Repair {
    return {
      ...this.offer({ code: 'accept' }, text, 0, whyNot),
      code: order.code,
      ...(order.amountL === undefined ? {} : { amountL: order.amountL }),
    };
  }

  private thickness(order: RepairOrder): number {
    const added =
      order.code === 'boiling-liquor' || order.code === 'cold-liquor' ? (order.amountL ?? 0) : 0;
    let water = added * LIQUOR_KG_PER_L;
    for (const s of this.middle.situation.vessels)
      if (s.solidsKg + s.extractKg > 0.05) water += s.waterKg;
    return water / this.now.day.gristKg;
  }

  private contentL(vessel: string): number {
    return quantile(
      this.now.particles.map((p) =>
        volumeOf(vesselIn(p, vessel), thermalIn(this.now.day, vessel, p.draw)),
      ),
      0.5,
    );
  }

  private roomL(): number {
    return Math.max(0, this.now.day.restTun.brimL - this.contentL(this.tun));
  }

  private roomFor(litres: number): string | undefined {
    const roomL = this.roomL();
    return litres <= roomL
      ? undefined
      : `${this.now.day.restTun.name} has room for ${roomL.toFixed(0)} L only`;
  }

  private routeHands(): number {
    return Math.min(this.now.day.pullRoute.hands, this.now.day.hands.length);
  }
}

/** Liquor at brewing temperatures, near enough for a ratio. */
const LIQUOR_KG_PER_L = 0.97;
