import type { BrewState } from '@ladlework/log';
import type { WayOut, WayPlayed } from '@ladlework/planner';
import { clockOf, inPair, show, showBand, showExtract } from '../../units/show.ts';
import { FirmButton } from '../FirmButton.tsx';

interface Props {
  readonly way: WayOut;
  readonly brew: BrewState;
  /** Left out while somebody carries. */
  readonly onPick: ((way: WayOut) => void) | undefined;
}

/** One way out, carried through the rest of the day to cast-out. */
export function Way({ way, brew, onPick }: Props) {
  const { played } = way;
  if (played === undefined) return null;
  return (
    <li class="way">
      <div class="way-head">
        <b>{inPair(way.text)}</b>
        {onPick !== undefined && (
          <FirmButton
            class="key"
            writes="plan-changed"
            label={`Take: ${inPair(way.text)}`}
            onFirm={() => onPick(way)}
          >
            Take
          </FirmButton>
        )}
      </div>
      <dl class="way-figures">
        {figures(played, brew).map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      {way.cautions.map((text) => (
        <p key={text} class="work-care">
          {text}
        </p>
      ))}
    </li>
  );
}

const percent = (b: { low: number; likely: number; high: number }): string => {
  const p = (x: number) => Math.round(100 * x);
  return p(b.low) === p(b.high) ? `${p(b.likely)} %` : `${p(b.low)} to ${p(b.high)} %`;
};

function figures(p: WayPlayed, brew: BrewState): readonly (readonly [string, string])[] {
  const at = (minute: number) => clockOf((brew.startedAtMs ?? 0) + minute * 60_000);
  const later = Math.round(p.laterMin);
  const hands = Math.round(p.handsMin);
  const c = p.castOut;
  const rows: (readonly [string, string] | undefined)[] = [
    ...p.landings.map(
      (l) =>
        [
          l.moveId === 'now' ? 'stands at' : `lands, wanted ${show('temperature', l.targetC, 0)}`,
          showBand('temperature', l.tempC, 1),
        ] as const,
    ),
    [
      'mash over',
      `${at(p.mashEndMin.likely)}${later === 0 ? '' : later > 0 ? `, ${show('duration', later)} later` : `, ${show('duration', -later)} sooner`}`,
    ],
    hands === 0
      ? undefined
      : ['hands', `${hands > 0 ? '+' : '−'}${show('duration', Math.abs(hands))}`],
    ['mash', showBand('volume', p.mashL, 0)],
    p.alphaLeft && ['alpha-amylase left', percent(p.alphaLeft)],
    p.betaLeft && ['beta-amylase left', percent(p.betaLeft)],
    p.iodineNormal === undefined
      ? undefined
      : ['iodine', p.iodineNormal ? 'clear' : 'blue: starch left'],
    c && ['cast-out', `${showBand('volume', c.coldL, 0)}, ${showExtract(c.plato.likely)}`],
    c && ['extract', showBand('mass', c.extractKg, 1)],
    c && c.ibu.likely > 0.5 ? ['bitterness', `${Math.round(c.ibu.likely)} mg/L`] : undefined,
    c?.limitApparentPct && [
      'attenuation, limit',
      `${Math.round(c.limitApparentPct.low)} to ${Math.round(c.limitApparentPct.high)} %`,
    ],
    c && ['tank', `${showBand('volume', c.tankL, 0)} at ${at(c.finishMin.likely)}`],
  ];
  return rows.filter((r) => r !== undefined);
}
