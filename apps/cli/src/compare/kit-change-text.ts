/** `compare FILE --what-if` and `--to-kit`: changes of kit, and the brew on another one. */
import type { HelpTable, PlanDocument, Scaled } from '@ladlework/planner';
import { format, formatBand, sentenceIn, type UnitPair } from '@ladlework/quantity';
import { columns } from '../output.ts';
import { plainBand, wrapped } from './text.ts';

/** A difference as a signed number; nought without a sign. */
function signed(x: number, digits: number): string {
  const text = x.toFixed(digits).replace(/^-(0\.?0*)$/, '$1');
  return Number(text) > 0 ? `+${text}` : text;
}

/** What each change saves and when it is paid. */
export function helpText(document: PlanDocument, table: HelpTable, pair: UnitPair): string {
  const { own, rows, currency } = table;
  const possible = rows.filter((r) => r.feasible);
  const head = [
    '',
    'min saved',
    'landing K',
    'lifts',
    'kWh',
    `money ${currency}`.trim(),
    'paid back',
  ];
  const cells = possible.map((r, i) => [
    `${i + 1}`,
    signed(r.minutesSaved, 0),
    r.landingBandK.changed.toFixed(1),
    signed(-r.liftsAvoided, 0),
    signed(-r.energySavedKWh, 1),
    signed(r.moneySaved, 2),
    r.payBack.text,
  ]);
  const names = possible.map((r, i) => {
    const price = r.price === undefined ? '' : `, ${r.price.toFixed(0)} ${currency}`.trimEnd();
    return wrapped(`${i + 1} ${sentenceIn(r.text, pair)}${price}`, '  ');
  });
  const not = rows
    .filter((r) => !r.feasible)
    .map((r) => wrapped(`${sentenceIn(r.text, pair)}: ${sentenceIn(r.whyNot, pair)}`, '  '));
  return [
    wrapped(`${document.beer.name} on ${document.kit.name}: what would help`, ''),
    own
      ? wrapped(
          `As it is: ${plainBand(own.finishMin, 0)} minutes for the day, worst landing known within ${own.landingBandK.toFixed(1)} K, ${own.lifts} lifts, ${plainBand(own.energyKWh, 0)} kWh.`,
          '',
        )
      : 'As it is this kit cannot brew it.',
    ...(possible.length > 0 ? [`${names.join('\n')}\n\n${columns([head, ...cells], '  ')}`] : []),
    ...(not.length > 0 ? [`Not possible\n${not.join('\n')}`] : []),
    wrapped(sentenceIn(table.note, pair), ''),
  ]
    .map((part) => `${part}\n`)
    .join('\n');
}

export function helpJson(table: HelpTable) {
  const { own } = table;
  return {
    currency: table.currency,
    ...(own
      ? {
          own: {
            finish_min: own.finishMin,
            hands_busy_min: own.handsBusyMin,
            carried_kg: own.carriedKg,
            energy_kWh: own.energyKWh,
            cost: own.cost,
            landing_band_K: own.landingBandK,
            lifts: own.lifts,
          },
        }
      : {}),
    changes: table.rows.map((r) => ({
      change: r.change,
      text: r.text,
      ...(r.price === undefined ? {} : { price: r.price }),
      feasible: r.feasible,
      why_not: r.whyNot,
      minutes_saved: r.minutesSaved,
      landing_band_K: r.landingBandK,
      lifts_avoided: r.liftsAvoided,
      energy_saved_kWh: r.energySavedKWh,
      money_saved: r.moneySaved,
      pay_back: r.payBack,
    })),
    note: table.note,
  };
}

/** The brew on the other kit: grist, effect of the bags, and what does not come along. */
export function scaleText(document: PlanDocument, scaled: Scaled, pair: UnitPair): string {
  const { effect, document: there } = scaled;
  const kg = (x: number) => format('mass', x, pair);
  const grist = scaled.grist.map((g) => [
    g.name,
    kg(g.fromKg),
    `exact ${kg(g.exactKg)}`,
    `take ${kg(g.kg)}`,
    g.bags === undefined ? '' : `${g.bags.toFixed(1)} bags`,
  ]);
  const litres = (x: number) => format('volume', x, pair);
  const facts = [
    `Bags: ${signed(100 * effect.extractShare, 1)} % extract; ${signed(effect.platoChange, 2)} °P at the same volume, or ${litres(effect.castOutL.rounded)} at cast-out in place of ${litres(effect.castOutL.exact)}.`,
    ...(effect.colourEbc
      ? [
          `Malt colour ${effect.colourEbc.rounded.toFixed(1)} EBC, exact ${effect.colourEbc.exact.toFixed(1)}.`,
        ]
      : []),
    ...(scaled.wort
      ? [
          `Extract ${(100 * scaled.wort.extractKgKg.from).toFixed(1)} % of the malt here, ${(100 * scaled.wort.extractKgKg.to).toFixed(1)} % there; limit ${scaled.wort.limitApparentPct.from.toFixed(1)} and ${scaled.wort.limitApparentPct.to.toFixed(1)} %.`,
        ]
      : []),
  ];
  const lost = scaled.notKept.map((n) => [
    n.what,
    inUnit(n.from, n.unit, pair),
    inUnit(n.to, n.unit, pair),
  ]);
  return [
    wrapped(
      `${document.beer.name} from ${document.kit.name} to ${there.kit.name}, ${scaled.factor.toFixed(2)} times the malt`,
      '',
    ),
    ...(scaled.feasible
      ? []
      : [wrapped(`It cannot be brewed so: ${sentenceIn(scaled.whyNot, pair)}`, '')]),
    `Grist\n${columns(grist, '  ')}\n${facts.map((f) => wrapped(f, '  ')).join('\n')}`,
    `Kept\n${scaled.kept.map((k) => wrapped(sentenceIn(k, pair), '  ')).join('\n')}`,
    `Not kept\n${columns([['', 'here', 'there'], ...lost], '  ')}`,
    ...(scaled.notes.length > 0 ? [scaled.notes.map((n) => wrapped(n, '')).join('\n')] : []),
  ]
    .map((part) => `${part}\n`)
    .join('\n');
}

function inUnit(band: Scaled['notKept'][number]['from'], unit: string, pair: UnitPair): string {
  if (unit === 'L') return formatBand('volume', band, pair);
  if (unit === '°C') return formatBand('temperature', band, pair);
  return `${plainBand(band, 1)} ${unit}`;
}

export function scaleJson(scaled: Scaled) {
  return {
    feasible: scaled.feasible,
    why_not: scaled.whyNot,
    factor: scaled.factor,
    grist: scaled.grist.map((g) => ({
      name: g.name,
      from_kg: g.fromKg,
      exact_kg: g.exactKg,
      kg: g.kg,
      ...(g.bags === undefined ? {} : { bags: g.bags }),
    })),
    effect: {
      extract_share: scaled.effect.extractShare,
      plato_change: scaled.effect.platoChange,
      cast_out_L: scaled.effect.castOutL,
      ...(scaled.effect.colourEbc === undefined ? {} : { colour_ebc: scaled.effect.colourEbc }),
    },
    ...(scaled.wort
      ? {
          wort: {
            extract_kg_kg: scaled.wort.extractKgKg,
            limit_apparent_pct: scaled.wort.limitApparentPct,
          },
        }
      : {}),
    kept: scaled.kept,
    not_kept: scaled.notKept,
    notes: scaled.notes,
    document: scaled.document,
  };
}
