/** The ways to brew, and what is told of each, in words and numbers the brewer reads. */
import type { Band, Differences, Method, Way } from '@ladlework/planner';
import { format } from '@ladlework/quantity';
import { pair } from '../../shell/settings.ts';
import { show } from '../../units/show.ts';

export const WAY_NAMES: Readonly<Record<Method, string>> = {
  infusion: 'Single infusion',
  'step-infusion': 'Stepped by liquor',
  'direct-heat': 'Stepped by heat',
  'one-pull': 'One pull',
  'two-pulls': 'Two pulls',
  'three-pulls': 'Three pulls',
  'kettle-mash': 'Kettle-mash',
  'no-pull-kilned-malts': 'No pull, kilned malts',
};

/** One figure of every way: where it stands, how it is written, what must be known of it. */
export interface WayFigure {
  readonly name: string;
  readonly note?: string;
  /** Of a feasible way. */
  readonly of: (way: Way) => Band | undefined;
  /** Left out where a difference says nothing. */
  readonly differs?: (d: Differences) => Band;
  /** One number with its unit, of any sign. */
  readonly write: (value: number) => string;
}

/** Weight in the one unit of the pair, so that small differences stay beside large ones. */
export const showWeight = (kg: number, digits: number): string =>
  format('mass', kg, pair.value, { unit: pair.value.name === 'us' ? 'lb' : 'kg', digits });

const hours = (h: number) => `${h.toFixed(1)} h`;
const share = (s: number) => `${(100 * s).toFixed(Math.abs(s) < 0.1 ? 1 : 0)} %`;

/**
 * The figures in the order they are asked for.
 * @param currency of the brewer's prices; empty when he named none
 */
export function wayFigures(currency: string): readonly WayFigure[] {
  const money = (m: number) => `${m.toFixed(0)}${currency === '' ? '' : ` ${currency}`}`;
  return [
    {
      name: 'The whole day',
      note: 'To the last vessel clean.',
      of: (w) => w.figures?.finishH,
      differs: (d) => d.finishH,
      write: hours,
    },
    {
      name: 'Hands at the mash',
      note: 'Every pair of hands counted.',
      of: (w) => w.figures?.handsBusyMin,
      differs: (d) => d.handsBusyMin,
      write: (m) => show('duration', m),
    },
    {
      name: 'Carried by hand',
      of: (w) => w.figures?.carriedKg,
      differs: (d) => d.carriedKg,
      write: (kg) => (kg === 0 ? 'nothing' : showWeight(kg, 0)),
    },
    {
      name: 'Energy of the mash',
      of: (w) => w.figures?.energyKWh,
      differs: (d) => d.energyKWh,
      write: (kWh) => `${kWh.toFixed(0)} kWh`,
    },
    {
      name: 'Money',
      note: 'Hands at the mash, energy and malt where it has a price.',
      of: (w) => w.figures?.cost,
      differs: (d) => d.cost,
      write: money,
    },
    {
      name: 'Extract in the mash',
      of: (w) => w.wort?.extractKg,
      differs: (d) => d.extractKg,
      write: (kg) => showWeight(kg, 1),
    },
    {
      name: 'Apparent limit of attenuation',
      note: 'The absolute figure is wide; to choose, look at the difference.',
      of: (w) => w.wort?.limitApparentPct,
      differs: (d) => d.limitApparentPoints,
      write: (pct) => `${pct.toFixed(1)} %`,
    },
    {
      name: 'Colour from the boils',
      note: 'Known within a factor of two. Malt of another colour is not in it.',
      of: (w) => w.wort?.colourAddedEbc,
      differs: (d) => d.colourAddedEbc,
      write: (ebc) => `${ebc.toFixed(1)} EBC`,
    },
    {
      name: 'Beta-amylase left at the end',
      of: (w) => w.wort?.betaLeft,
      write: share,
    },
    {
      name: 'Alpha-amylase left at the end',
      of: (w) => w.wort?.alphaLeft,
      write: share,
    },
    {
      name: 'DMS precursor left',
      note: 'Of what the malt brought, before the wort boil.',
      of: (w) => w.wort?.smmLeftShare,
      differs: (d) => scaled(d.smmLeftPoints, 0.01),
      write: (s) => `${(100 * s).toFixed(0)} %`,
    },
    {
      name: 'Starch left at the end',
      of: (w) => w.wort?.starchLeftShare,
      write: (s) => (s < 5e-5 ? 'none' : `${(100 * s).toFixed(2)} %`),
    },
  ];
}

const scaled = ({ low, likely, high }: Band, by: number): Band => ({
  low: low * by,
  likely: likely * by,
  high: high * by,
});

/** "+0.4 h", "−8 €", "±0 kg": a difference with its sign. */
export function signed(value: number, write: (value: number) => string): string {
  const text = write(Math.abs(value));
  if (!/\d/.test(text)) return text;
  if (!/[1-9]/.test(text)) return `±${text}`;
  return `${value > 0 ? '+' : '−'}${text}`;
}
