/** What can be slid on this kit, and the changes that the sliders stand for. */
import type { KitChange, PlanDocument } from '@ladlework/planner';
import type { Kind } from '@ladlework/quantity';

/** Values that differ from the kit's own, by the key of the control. */
export type SlideValues = Readonly<Record<string, number>>;

export interface Control {
  readonly key: string;
  readonly label: string;
  /** How the number is written; a plain unit where it converts to nothing else. */
  readonly as: { readonly kind: Kind } | { readonly unit: string } | 'tick';
  /** As it is now; nought where the kit has no such thing. */
  readonly own: number;
  readonly min: number;
  readonly max: number;
  readonly step: number;
  readonly change: (value: number) => KitChange;
}

/** The controls that mean something for this plan. */
export function controlsOf({ kit, mash, beer }: PlanDocument): readonly Control[] {
  const pulls = mash.raises.flatMap((r) => (r.by === 'decoction' ? [r] : []));
  const pots = [...new Set(pulls.flatMap((p) => p.pots))];
  const vessel = (id: string) => kit.vessels.find((v) => v.id === id);
  const holds = vessel(mash.layout === 'kettle-mash' ? (mash.park ?? mash.tun) : mash.tun);
  const heated = kit.burners.some((b) => b.heats.includes(mash.tun));
  const malt = beer.malts.reduce((sum, m) => sum + m.kg, 0);
  const controls: (Control | undefined | false)[] = [
    ...kit.burners.map(
      (b): Control => ({
        key: `burner.${b.id}`,
        label: b.name,
        as: { kind: 'power' },
        own: b.ratedKW,
        min: 0.2,
        max: 3 * b.ratedKW,
        step: rounded(b.ratedKW / 20),
        change: (ratedKW) => ({ what: 'burner-power', burner: b.id, ratedKW }),
      }),
    ),
    ...pots.map((id): Control | undefined => {
      const pot = vessel(id);
      return (
        pot && {
          key: `pot.${id}`,
          label: `${pot.name}, to the brim`,
          as: { kind: 'volume' },
          own: pot.brimL,
          min: 1,
          max: 3 * pot.brimL,
          step: rounded(pot.brimL / 20),
          change: (brimL) => ({ what: 'pot-volume', vessel: id, brimL }),
        }
      );
    }),
    holds && {
      key: 'loss',
      label: `${holds.name}, heat loss`,
      as: { unit: 'W/K' },
      own: holds.lossWK,
      min: 0,
      max: Math.min(500, 3 * holds.lossWK + 1),
      step: rounded(Math.max(0.2, holds.lossWK / 20)),
      change: (lossWK) => ({ what: 'insulation', vessel: holds.id, lossWK }),
    },
    {
      key: 'altitude',
      label: 'Height above the sea',
      as: { kind: 'length' },
      own: kit.altitudeM,
      min: -500,
      max: 5000,
      step: 50,
      change: (altitudeM) => ({ what: 'altitude', altitudeM }),
    },
    pulls.length > 0 && {
      key: 'pump',
      label: 'Pump for mash, litres a minute',
      as: { unit: 'L/min' },
      own: 0,
      min: 0,
      max: 100,
      step: 5,
      change: (litresPerMin) => ({ what: 'pump', litresPerMin }),
    },
    mash.layout === 'carry' &&
      pots[0] !== undefined && {
        key: 'second',
        label: `A second ${vessel(pots[0])?.name ?? 'pot'} on its own burner`,
        as: 'tick',
        own: 0,
        min: 0,
        max: 1,
        step: 1,
        change: () => ({ what: 'second-pot', like: pots[0] as string }),
      },
    { ...TICK, key: 'helper', label: 'One more pair of hands', change: () => ({ what: 'helper' }) },
    // The jacket takes over the last raise, so it comes after what speaks of the pulls.
    mash.raises.length > 0 &&
      !heated && {
        key: 'jacket',
        label: `Heat at ${vessel(mash.tun)?.name ?? 'the tun'}`,
        as: { kind: 'power' },
        own: 0,
        min: 0,
        max: 60,
        step: 1,
        change: (netKW) => ({ what: 'jacket', vessel: mash.tun, netKW }),
      },
    {
      key: 'batch',
      label: 'Malt of the brew',
      as: { kind: 'mass' },
      own: malt,
      min: 0.2 * malt,
      max: 3 * malt,
      step: rounded(malt / 20),
      change: (kg) => ({ what: 'batch-size', factor: kg / malt }),
    },
  ];
  return controls.filter((c): c is Control => typeof c === 'object');
}

const TICK = { as: 'tick', own: 0, min: 0, max: 1, step: 1 } as const;

/** The changes of what was moved, in the order they are made. */
export function changesOf(controls: readonly Control[], values: SlideValues): KitChange[] {
  return controls.flatMap((c) => {
    const value = values[c.key];
    return value === undefined || value === c.own ? [] : [c.change(value)];
  });
}

/** A step that reads well: 1, 2 or 5 times a power of ten. */
function rounded(step: number): number {
  const power = 10 ** Math.floor(Math.log10(step));
  const lead = step / power;
  return (lead < 1.5 ? 1 : lead < 3.5 ? 2 : lead < 7.5 ? 5 : 10) * power;
}
