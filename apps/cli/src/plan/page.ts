/** The plan as a page for the brewer. */
import { type Move, pullWayText, type Vessel } from '@ladlework/brewhouse';
import { fillHeight } from '@ladlework/matter';
import type { Plan, PlanDocument, PlannedMove, PlannedReturn } from '@ladlework/planner';
import {
  type Band,
  format,
  formatBand,
  formatClock,
  formatDuration,
  sentenceIn,
  type UnitPair,
} from '@ladlework/quantity';
import { columns } from '../output.ts';
import { wortText } from './wort-text.ts';

/** Words and numbers of one plan in one pair of units. */
interface Sheet {
  readonly document: PlanDocument;
  readonly plan: Plan;
  readonly pair: UnitPair;
}

/**
 * The plan, to be read at the tun: strike, the day by the clock, each pull, what comes of it.
 *
 * @param document the day
 * @param plan made from it
 * @param pair the brewer's units
 */
export function planPage(document: PlanDocument, plan: Plan, pair: UnitPair): string {
  const sheet = { document, plan, pair };
  return [
    heading(sheet),
    verdict(sheet),
    dayTable(sheet),
    ...plan.returns.map((r) => returnText(sheet, r)),
    outcome(sheet),
    plan.noWortPlan === undefined ? '' : `No way to the tank\n  ${plan.noWortPlan}`,
    plan.wortPlan === undefined ? '' : wortText(plan.wortPlan, pair),
    cautions(sheet),
  ]
    .filter((part) => part !== '')
    .map((part) => `${part}\n`)
    .join('\n');
}

const degrees = ({ pair }: Sheet, band: Band) => formatBand('temperature', band, pair);
const litres = ({ pair }: Sheet, x: number) => format('volume', x, pair);
const clock = ({ document }: Sheet, minute: number) => formatClock(document.day.startMin + minute);
const vesselOf = ({ document }: Sheet, id: string) =>
  document.kit.vessels.find((v) => v.id === id) as Vessel;
const nameOf = (sheet: Sheet, id: string) => vesselOf(sheet, id).name;

/** "about 27–31–36 L": three numbers, or one with its doubt when that is even. */
const volumes = ({ pair }: Sheet, band: Band) => formatBand('volume', band, pair);

/** What the dip rod shows for this much in that vessel. */
function dip(sheet: Sheet, vessel: string, volumeL: number): string {
  return format('length', fillHeight(vesselOf(sheet, vessel).diameterM, volumeL), sheet.pair);
}

/** Decimals, and never "-0". */
const fixed = (x: number, digits: number): string =>
  (x + 0).toFixed(digits).replace(/^-(0\.?0*)$/, '$1');

/** A band of plain numbers with a unit of their own. */
function plainBand(band: Band, digits: number, unit: string): string {
  const [low, likely, high] = [band.low, band.likely, band.high].map((x) => fixed(x, digits));
  return `${low === high ? likely : `${low}–${likely}–${high}`}${unit}`;
}

function heading(sheet: Sheet): string {
  const { document, plan, pair } = sheet;
  const { kit, beer, day, mash } = document;
  const kg = beer.malts.reduce((sum, m) => sum + m.kg, 0);
  const rests = mash.rests.map((r) => format('temperature', r.tempC, pair)).join(', ');
  const rows = [
    ['Grist', `${format('mass', kg, pair)} of ${beer.malts.map((m) => m.name).join(', ')}`],
    ['Rests', rests],
    [
      'Strike',
      `${litres(sheet, plan.strike.litres)} at ${degrees(sheet, plan.strike.tempC)}; the mash is ${litres(sheet, plan.strike.mashL)}, ${dip(sheet, mash.tun, plan.strike.mashL)} deep in ${nameOf(sheet, mash.tun)}`,
    ],
    [
      'Mash',
      `${formatClock(day.startMin)} to ${clock(sheet, plan.mashEndMin.likely)} (${clock(sheet, plan.mashEndMin.low)} to ${clock(sheet, plan.mashEndMin.high)}); ${formatBand('duration', plan.addedMin, pair)} more than its rests`,
    ],
  ];
  return `${beer.name} on ${kit.name}\n\n${columns(rows)}`;
}

function verdict(sheet: Sheet): string {
  const { plan } = sheet;
  if (plan.feasible) return 'The kit can do this.';
  const clashes = plan.clashes.map((c) => `- ${c.text}`);
  const changes = plan.changes.map((c) => [
    `- ${c.text}`,
    `lands at ${degrees(sheet, c.landingC)}`,
    `${c.addedMin < 0 ? '' : '+'}${formatDuration(c.addedMin)}`,
  ]);
  const found =
    changes.length > 0
      ? `Any one of these would free it:\n${columns(changes)}`
      : 'No single change of those tried would free it.';
  return `The kit cannot do this.\n${clashes.join('\n')}\n\n${found}\n\nWhat follows is as far as the kit gets.`;
}

function dayTable(sheet: Sheet): string {
  const rows = sheet.plan.moves.map((m) => [
    `${clock(sheet, m.startMin.likely)}–${clock(sheet, m.endMin.likely)}`,
    m.move.hands.join(' ') || '-',
    placeOf(sheet, m.move),
    `${m.move.note ?? m.move.kind}${amountOf(sheet, m.move)}`,
    temperatures(sheet, m),
  ]);
  return `The day\n${columns([['clock', 'hands', 'where', 'what', 'temperature'], ...rows], '  ')}`;
}

function placeOf(sheet: Sheet, move: Move): string {
  if (move.kind === 'pull' || move.kind === 'return' || move.kind === 'pour')
    return `${nameOf(sheet, move.from)} > ${nameOf(sheet, move.to)}`;
  return nameOf(sheet, move.vessel);
}

function amountOf(sheet: Sheet, move: Move): string {
  const parts: string[] = [];
  if ('litres' in move && move.litres !== undefined) parts.push(litres(sheet, move.litres));
  if (move.kind === 'pull')
    parts.push(
      typeof move.thickness === 'string'
        ? move.thickness
        : format('ratio', move.thickness.liquorLPerKg, sheet.pair),
    );
  if (move.kind === 'heat' && move.to !== 'boil')
    parts.push(`to ${format('temperature', move.to, sheet.pair)}`);
  if ((move.kind === 'return' || move.kind === 'pour') && move.stopAtC !== undefined)
    parts.push(`stop at ${format('temperature', move.stopAtC, sheet.pair)}`);
  return parts.length > 0 ? `: ${parts.join(', ')}` : '';
}

/** Moves into a vessel that was empty: its bare wall before them is nobody's mash. */
const INTO_EMPTY = new Set<Move['kind']>(['fill', 'preheat', 'mash-in', 'pull']);

/** The vessel acted on, before and after; one number where it hardly moves. */
function temperatures(sheet: Sheet, m: PlannedMove): string {
  const from = format('temperature', m.fromC.likely, sheet.pair, { withUnit: false });
  const to = degrees(sheet, m.toC);
  const still = Math.abs(m.fromC.likely - m.toC.likely) < 0.05;
  return still || INTO_EMPTY.has(m.move.kind) ? to : `${from} > ${to}`;
}

function returnText(sheet: Sheet, r: PlannedReturn): string {
  const { document, pair } = sheet;
  const { mash, kit } = document;
  const route = kit.routes.find((x) => x.id === (mash.pullRoute ?? kit.routes[0]?.id));
  const kettleMash = mash.layout === 'kettle-mash' && r.pull === 1;
  const loads = r.potLoads.map(
    (load) => `${nameOf(sheet, load.vessel)} ${litres(sheet, load.litres)}`,
  );
  const only = r.potLoads.length === 1 ? r.potLoads[0] : undefined;
  const measure = [
    ...(kettleMash || route === undefined
      ? []
      : [`${r.portions} times ${litres(sheet, route.portionL)} by ${route.name}`]),
    ...(kettleMash ? [] : [`${dip(sheet, mash.tun, r.takeL)} down ${nameOf(sheet, mash.tun)}`]),
    ...(only === undefined
      ? [loads.join(', ')]
      : [`${dip(sheet, only.vessel, only.litres)} up ${nameOf(sheet, only.vessel)}`]),
  ];
  const share = plainBand(scaled(r.pullShare, 100), 0, ' %');
  const rows = [
    [
      'needed',
      `${volumes(sheet, r.pullL)}, ${formatBand('mass', r.pullKg, pair)}, ${share} of the mash`,
    ],
    [kettleMash ? 'boil' : 'pull', `${litres(sheet, r.takeL)}: ${measure.join('; ')}`],
    ...waysOf(sheet, r),
    ['reserve', `${volumes(sheet, r.reserveL)} kept back when the target is read`],
    ['away', formatBand('duration', r.awayMin, pair)],
    ['tun by then', degrees(sheet, r.tunBeforeC)],
    ['arrives at', degrees(sheet, r.arrivalC)],
    ['lands at', `${degrees(sheet, r.guidedLandingC)} when you read and stop at the target`],
    ['', `${degrees(sheet, r.landingC)} when the litres needed go back unread`],
    [
      'textbook',
      `${format('temperature', r.textbookC, pair)} for the same pull, without what the kit loses`,
    ],
  ];
  const title = `Pull ${r.pull}: from ${format('temperature', r.restC, pair)} to ${format('temperature', r.targetC, pair)}`;
  return `${title}\n${columns(rows, '  ')}`;
}

/** What the hands do to get each load as thick as it is asked for. */
function waysOf({ plan, pair }: Sheet, r: PlannedReturn): string[][] {
  const ways = r.moveIds.pull.flatMap((id) => {
    const way = plan.moves.find((m) => m.move.id === id)?.way;
    return way === undefined ? [] : [sentenceIn(pullWayText(way), pair)];
  });
  return ways.map((text, i) => [i === 0 ? 'how' : '', text]);
}

const scaled = (b: Band, by: number): Band => ({
  low: b.low * by,
  likely: b.likely * by,
  high: b.high * by,
});

function outcome(sheet: Sheet): string {
  const { plan, pair } = sheet;
  const { runOff, wort } = plan;
  const rows = [
    [
      'run-off',
      `at ${degrees(sheet, runOff.toC)} the wort is ${plainBand(runOff.viscosityToMPas, 2, ' mPa s')} against ${fixed(runOff.viscosityFromMPas, 2)} at ${format('temperature', runOff.fromC, pair)}: ${plainBand(scaled(runOff.flowFactor, 100), 0, ' %')} of the flow there`,
    ],
  ];
  const { energy } = plan;
  const kWh = (band: Band) => formatBand('energy', band, pair);
  rows.push(
    [
      'energy',
      `${kWh(energy.burntKWh)} burnt, ${kWh(energy.heatKWh)} of it into the vessels; ${kWh(energy.vapourKWh)} go off as steam, ${kWh(energy.lostKWh)} by walls and carrying`,
    ],
    [
      'evaporated',
      `${formatBand('mass', energy.evaporatedKg, pair)} of water, ${formatBand('mass', energy.boiledOffKg, pair)} of it by the pulls`,
    ],
  );
  if (wort === undefined) return `What comes of it\n${columns(rows, '  ')}`;
  rows.push(
    ['extract', `${formatBand('mass', wort.extractKg, pair)} in the mash`],
    ['mash wort', plainBand(wort.wortPlato, 1, ' °P')],
    ['fermentable', plainBand(scaled(wort.fermentableShare, 100), 0, ' % of the extract')],
    [
      'limit',
      `${plainBand(wort.limitApparentPct, 0, ' %')} apparent attenuation, with what the model may be wrong by`,
    ],
    ['', `${plainBand(wort.limitApparentNarrowPct, 1, ' %')} for comparing plans of the same malt`],
    [
      'enzymes left',
      `alpha ${plainBand(scaled(wort.alphaLeft, 100), 0, ' %')}, beta ${plainBand(scaled(wort.betaLeft, 100), 0, ' %')}`,
    ],
    ['starch left', plainBand(scaled(wort.starchLeftShare, 100), 1, ' %')],
    ['colour', `+${plainBand(wort.colourAddedEbc, 1, ' EBC')} by boiling mash`],
    ['SMM', `${plainBand(scaled(wort.smmRemovedShare, 100), 0, ' %')} removed by boiling mash`],
    ...plan.iodine.flatMap(({ rest, atMin, positiveChance, ifBlue }) => [
      [
        'iodine',
        `rest ${rest}, ${clock(sheet, atMin)}: blue in ${fixed(100 * positiveChance, 0)} of 100 such mashes`,
      ],
      ...(ifBlue === undefined ? [] : [['', `if blue: ${sentenceIn(ifBlue, pair)}`]]),
    ]),
    ...wort.outside.map((why) => ['holds not', why]),
  );
  return `What comes of it\n${columns(rows, '  ')}`;
}

/** Each caution once, with the moves it belongs to. */
function cautions(sheet: Sheet): string {
  const { plan } = sheet;
  if (plan.cautions.length === 0) return '';
  const moves = new Map(plan.moves.map((m) => [m.move.id, m]));
  const grouped = new Map<string, string[]>();
  for (const { moveId, text } of plan.cautions) {
    const move = moves.get(moveId);
    const at = move === undefined ? moveId : clock(sheet, move.startMin.likely);
    grouped.set(text, [...(grouped.get(text) ?? []), at]);
  }
  const lines = [...grouped].map(([text, at]) => `  ${[...new Set(at)].join(', ')}  ${text}`);
  return `Cautions\n${lines.join('\n')}`;
}
