import { VERB } from '@ladlework/brewhouse';
import type { PlanSummary, SummaryMove } from '@ladlework/log';
import { describe, expect, it } from 'vitest';
import { reasonOf } from './reason.ts';

const at = (likely: number) => ({ low: likely - 1, likely, high: likely + 1 });
const move = (kind: string): SummaryMove => ({
  id: `${kind}-1`,
  kind,
  vessel: 'tun',
  text: '',
  hands: ['H'],
  startMin: at(10),
  endMin: at(20),
  fromC: at(62),
  toC: at(63),
  volumeL: 300,
});
const summary: PlanSummary = {
  moves: [],
  returns: [
    {
      pull: 1,
      moveIds: { pull: ['pull-1'], return: ['return-1'] },
      restC: 62,
      targetC: 71,
      takeL: 100,
      portions: 9,
      tunBeforeC: at(61),
      arrivalC: at(98),
      landingC: at(71),
    },
  ],
  strike: { litres: 250, tempC: at(70) },
  mashEndMin: at(200),
  addedMin: at(90),
};
const temp = (c: number) => `${c} °C`;

describe('why a move is made', () => {
  it.each(Object.keys(VERB))('is said of %s in at most three short sentences', (kind) => {
    const said = reasonOf(move(kind), summary, temp) ?? '';
    expect(said).toMatch(/^[A-Z].*\.$/);
    expect(said.length).toBeLessThan(200);
  });

  it('names what the pull and the return are to reach, not where the pot stands', () => {
    expect(reasonOf(move('pull'), summary, temp)).toContain('71 °C');
    expect(reasonOf(move('return'), summary, temp)).toContain('71 °C');
    expect(reasonOf(move('return'), undefined, temp)).not.toContain('°C');
  });

  it('says nothing of a move it does not know', () => {
    expect(reasonOf(move('skim'), summary, temp)).toBeUndefined();
  });
});
