/** `simulate` against published sums and tables. Their assumptions are set up, not built in. */
import { slakingHeat, waterDensity } from '@ladlework/matter';
import { describe, expect, it } from 'vitest';
import { readDocument, readTable } from '../../../reference/read.ts';
import { type Draw, NOMINAL } from './draw.ts';
import type { Vessel } from './kit.ts';
import type { Move } from './moves.ts';
import { simulate } from './simulate.ts';
import { burnerOf, kitOf, standing } from './testing.ts';
import { contentHeatCapacity, liquidVolume, thermalOf, volumeOf } from './thermal.ts';

const MOISTURE = 0.045;
/** No open surface, so that nothing is lost that the sum does not lose. */
const CLOSED: Draw = { ...NOMINAL, surface: 0 };
const R = 1.25;
const fahrenheit = (f: number) => (f - 32) / 1.8;

interface Checks {
  readonly 'S1 strike': { readonly T_strike: number; readonly without_slaking: number };
  readonly 'M1 mash heat capacity kJ/K': {
    readonly value: number;
    readonly volume_L_at_52: number;
    readonly vol_cap_kJ_LK: number;
  };
  readonly 'D decoction fraction (same composition as mash)': {
    readonly cases: readonly {
      readonly case: string;
      readonly T1: number;
      readonly T2: number;
      readonly Td: number;
      readonly fraction: number;
      readonly litres: number;
      readonly C_tun_kJ_K: number;
      readonly boiled_off_kg: number;
    }[];
  };
  readonly 'H1 time to heat 10 kg decoction at 3.0 kW net': {
    readonly t_52_72_min: number;
    readonly t_72_100_min: number;
    readonly evap_15min_kg: number;
  };
  readonly 'H2 heat 40 kg water 15->78 at 3.5 kW net': { readonly min: number };
  readonly 'K1 contraction': { readonly V_20C_L: number };
}
const checks = readDocument<Checks>('physics-checks.json');
const worked = new Map(readTable('mash-worked-examples.csv').map((r) => [r.text('id'), r]));

/** House case S1 of physics.md 3: grist of 1.70 kJ/(kg K), slaking 20 kJ/kg. */
const S1: Draw = { ...CLOSED, gristKJKgK: 1.7, slaking: 20 / slakingHeat(100 * MOISTURE) };

function mashIn(strikeC: number, draw: Draw) {
  const kit = kitOf([{ id: 'tun', wallKJK: 3 }, { id: 'tank' }]);
  const trace = simulate(
    kit,
    standing(kit, { tank: { tempC: strikeC, waterKg: 28 } }),
    [
      {
        id: 'mash-in',
        kind: 'mash-in',
        vessel: 'tun',
        from: 'tank',
        litres: (28 / waterDensity(strikeC)) * 1000,
        grist: { kg: 8, tempC: 18, moisture: MOISTURE },
        minutes: 0,
        hands: [],
      },
    ],
    { draw, moisture: MOISTURE },
  );
  const state = trace.end.vessels[0];
  if (!state) throw new Error('no tun');
  return { state, thermal: thermalOf(kit.vessels[0] as Vessel, draw, 20, MOISTURE) };
}

/** Pull a share, bring it to `atC`, boil off, put it back: what the full balance of 3.3 assumes. */
function decoct(d: {
  share: number;
  restC: number;
  atC: number;
  tunKJK: number;
  offKg?: number;
  content?: { waterKg: number; solidsKg: number };
  draw?: Draw;
}) {
  const kit = {
    ...kitOf([{ id: 'tun', wallKJK: d.tunKJK }, { id: 'pot' }], { burners: [burnerOf(20, 'pot')] }),
    boilingPointC: d.atC,
  };
  const draw = d.draw ?? CLOSED;
  const content = d.content ?? { waterKg: 100, solidsKg: 0 };
  const start = standing(kit, { tun: { tempC: d.restC, ...content } });
  const thermal = thermalOf(kit.vessels[0] as Vessel, draw, kit.airC, MOISTURE);
  const state = start.vessels[0];
  if (!state) throw new Error('no tun');
  const litres = d.share * volumeOf(state, thermal);
  const boil = (minutes: number): Move[] => [
    {
      id: 'pull',
      kind: 'pull',
      from: 'tun',
      to: 'pot',
      route: 'at-once',
      litres,
      thickness: 'as-it-comes',
      hands: [],
    },
    {
      id: 'up',
      kind: 'heat',
      vessel: 'pot',
      burner: 'burner-pot',
      to: 'boil',
      lidOn: true,
      hands: [],
    },
    { id: 'boil', kind: 'boil', vessel: 'pot', burner: 'burner-pot', minutes, power: 1, hands: [] },
    { id: 'return', kind: 'return', from: 'pot', to: 'tun', route: 'at-once', hands: [] },
  ];
  const options = { draw, moisture: MOISTURE };
  const perMin = simulate(kit, start, boil(1), options).moves[2]?.evaporatedKg as number;
  const trace = simulate(kit, start, boil((d.offKg ?? 0) / perMin), options);
  return { landingC: trace.moves[3]?.toC as number, litres, offKg: trace.ledger.vapourKg };
}

describe('strike and mash, physics.md 3 (house case S1)', () => {
  it('strikes 52 °C at 55.398 °C, at 56.763 °C without slaking heat', () => {
    expect(mashIn(checks['S1 strike'].T_strike, S1).state.tempC).toBeCloseTo(52, 2);
    const dry = { ...S1, slaking: 0 };
    expect(mashIn(checks['S1 strike'].without_slaking, dry).state.tempC).toBeCloseTo(52, 2);
  });

  it('holds 130.836 kJ/K in 33.885 L', () => {
    const m1 = checks['M1 mash heat capacity kJ/K'];
    const { state, thermal } = mashIn(checks['S1 strike'].T_strike, S1);
    const heat = contentHeatCapacity(state, thermal);
    expect(heat).toBeCloseTo(m1.value, 2);
    // Moisture counts as water here, 0.36 kg at 0.987 kg/L: 5 mL.
    expect(Math.abs(volumeOf(state, thermal) - m1.volume_L_at_52)).toBeLessThan(0.01);
    expect(heat / volumeOf(state, thermal)).toBeCloseTo(m1.vol_cap_kJ_LK, 2);
  });
});

describe('decoction', () => {
  const { waterKg, solidsKg } = mashIn(55.4, S1).state;
  const content = { waterKg, solidsKg };

  it.each(checks['D decoction fraction (same composition as mash)'].cases)(
    'lands 65 °C with the full balance of physics.md 3.3: $case',
    (c) => {
      const done = decoct({
        share: c.fraction,
        restC: c.T1,
        atC: c.Td,
        tunKJK: c.C_tun_kJ_K,
        offKg: c.boiled_off_kg,
        content,
        draw: S1,
      });
      expect(done.offKg).toBeCloseTo(c.boiled_off_kg, 6);
      // The fraction is printed to four digits: 0.005 K.
      expect(Math.abs(done.landingC - c.T2)).toBeLessThan(0.005);
      expect(Math.abs(done.litres - c.litres)).toBeLessThan(0.04);
    },
  );

  it('one third from 62 °C lands where field.md 7 says, by what is lost', () => {
    for (const [slip, arrival, landing] of [
      [0, 100, 74.7],
      [1, 97, 73.0],
      [2, 95, 71.7],
      [5, 90, 68.0],
      [10, 85, 63.0],
    ] as const) {
      const done = decoct({ share: 1 / 3, restC: 62 - slip, atC: arrival, tunKJK: 0 });
      expect(Math.abs(done.landingC - landing)).toBeLessThan(0.06);
    }
  });

  it('needs the shares of the table of field.md 7', () => {
    const columns = [
      [0, 100],
      [1, 97],
      [2, 95],
      [5, 90],
      [10, 85],
      [0, 94.7],
    ] as const;
    const table = [
      { from: 37, to: 52, percent: [24, 26, 28, 34, 43, 26] },
      { from: 52, to: 64, percent: [25, 28, 31, 40, 51, 28] },
      { from: 62, to: 72, percent: [26, 31, 34, 45, 61, 31] },
      { from: 72, to: 77, percent: [18, 23, 28, 43, 65, 22] },
    ];
    for (const { from, to, percent } of table)
      columns.forEach(([slip, arrival], i) => {
        const share = (percent[i] as number) / 100;
        const { landingC } = decoct({ share, restC: from - slip, atC: arrival, tunKJK: 0 });
        // The table is in whole percent; a cell may be half a percent off.
        expect(Math.abs(landingC - to)).toBeLessThan(0.0055 * (arrival - from + slip));
      });
  });

  it('the factor 1.35 on the cross equals a return at 90.1 °C without slip (TR-1, common practice)', () => {
    const share = (1.35 * (72 - 62)) / (100 - 62);
    expect(decoct({ share, restC: 62, atC: 90.1, tunKJK: 0 }).landingC).toBeCloseTo(72, 1);
    // ... and about 2 K of slip with 95 °C on arrival (field.md 6.4).
    expect(Math.abs(decoct({ share, restC: 60, atC: 95, tunKJK: 0 }).landingC - 72)).toBeLessThan(
      0.5,
    );
  });

  it('the graphical method: 7.4 of 20 L lift 42 to 62 °C at 96.1 °C (HB-1, common practice)', () => {
    expect(decoct({ share: 7.4 / 20, restC: 42, atC: 96.1, tunKJK: 0 }).landingC).toBeCloseTo(
      62,
      1,
    );
  });

  it('a pull of its own thickness: 4.669 qt lift 122 to 150 °F (HT-1, credited to Palmer)', () => {
    // The sum counts a quart of water as 2, a pound of malt as 0.4, and 0.32 qt displaced a pound.
    const density = waterDensity(50) / 1000;
    const unit = (4.187 * density) / 2;
    const draw: Draw = { ...CLOSED, gristKJKgK: 0.4 * unit, displacementLKg: 0.32 };
    const kit = {
      ...kitOf([{ id: 'tun' }, { id: 'pot' }], { burners: [burnerOf(20, 'pot')] }),
      boilingPointC: 100,
    };
    const trace = simulate(
      kit,
      standing(kit, { tun: { tempC: 50, waterKg: 11.25 * density, solidsKg: 9 } }),
      [
        {
          id: 'pull',
          kind: 'pull',
          from: 'tun',
          to: 'pot',
          route: 'at-once',
          litres: 4.669,
          thickness: { liquorLPerKg: 0.6 * density },
          hands: [],
        },
        {
          id: 'up',
          kind: 'heat',
          vessel: 'pot',
          burner: 'burner-pot',
          to: 'boil',
          lidOn: true,
          hands: [],
        },
        { id: 'return', kind: 'return', from: 'pot', to: 'tun', route: 'at-once', hands: [] },
      ],
      { draw, moisture: 0 },
    );
    expect(worked.get('HT-1')?.text('stated_answer')).toBe('4.669');
    expect(Math.abs((trace.moves[2]?.toC as number) - fahrenheit(150))).toBeLessThan(0.02);
  });
});

describe('the 19th-century handbook, in Réaumur, malt counted as 0.42 of its weight in water', () => {
  const BOOK: Draw = { ...CLOSED, gristKJKgK: 0.42 * 4.187, slaking: 0 };
  const stated = (id: string) => Number(worked.get(id)?.text('stated_answer'));
  const recomputed = (id: string) => Number.parseFloat(worked.get(id)?.text('recomputed') ?? '');

  function bookMashIn(waterKg: number, waterR: number) {
    const kit = kitOf([{ id: 'tun' }]);
    const move: Move = {
      id: 'mash-in',
      kind: 'mash-in',
      vessel: 'tun',
      from: 'tun',
      litres: waterKg,
      grist: { kg: 100, tempC: 10 * R, moisture: 0 },
      minutes: 0,
      hands: [],
    };
    const trace = simulate(kit, standing(kit, { tun: { tempC: waterR * R, waterKg } }), [move], {
      draw: BOOK,
      moisture: 0,
    });
    return (trace.moves[0]?.toC as number) / R;
  }

  it('BA-1 and BA-6: mashing in', () => {
    expect(bookMashIn(464, 26)).toBeCloseTo(recomputed('BA-1'), 2);
    expect(bookMashIn(420, 50)).toBeCloseTo(recomputed('BA-6'), 2);
  });

  it('BA-2: boiling water poured to the mash', () => {
    const kit = kitOf([{ id: 'tun' }, { id: 'pan' }]);
    const trace = simulate(
      kit,
      standing(kit, {
        tun: { tempC: 24 * R, waterKg: 464, solidsKg: 100 },
        pan: { tempC: 80 * R, waterKg: 116 },
      }),
      [
        {
          id: 'pour',
          kind: 'pour',
          from: 'pan',
          to: 'tun',
          route: 'at-once',
          litres: 116 / (waterDensity(100) / 1000),
          hands: [],
        },
      ],
      { draw: BOOK, moisture: 0 },
    );
    expect((trace.moves[0]?.toC as number) / R).toBeCloseTo(stated('BA-2'), 1);
  });

  it.each([
    // rest [lb of water] cooled to [R], boiled [lb], evaporated [lb]
    { id: 'BA-3', restKg: 422, restR: 30, boiledKg: 200, offKg: 10 },
    { id: 'BA-5', restKg: 400, restR: 52, boiledKg: 203, offKg: 8 },
  ])('$id: the boiled thick mash returned', ({ id, restKg, restR, boiledKg, offKg }) => {
    const kit = {
      ...kitOf([{ id: 'tun' }, { id: 'pan' }], { burners: [burnerOf(60, 'pan')] }),
      boilingPointC: 100,
    };
    const start = standing(kit, {
      tun: { tempC: restR * R, waterKg: restKg },
      pan: { tempC: 80 * R, waterKg: boiledKg },
    });
    const moves = (minutes: number): Move[] => [
      {
        id: 'boil',
        kind: 'boil',
        vessel: 'pan',
        burner: 'burner-pan',
        minutes,
        power: 1,
        hands: [],
      },
      { id: 'return', kind: 'return', from: 'pan', to: 'tun', route: 'at-once', hands: [] },
    ];
    const perMin = simulate(kit, start, moves(1), { draw: CLOSED }).moves[0]
      ?.evaporatedKg as number;
    const trace = simulate(kit, start, moves(offKg / perMin), { draw: CLOSED });
    const landingR = (trace.moves[1]?.toC as number) / R;
    // The book rounds to half a degree Réaumur and reckons its tun without heat.
    expect(Math.abs(landingR - stated(id))).toBeLessThan(0.2);
    expect(landingR).toBeCloseTo(recomputed(id), 1);
  });
});

describe('infusion steps (HW-1, Palmer, from memory)', () => {
  it('8 lb at 1 qt/lb: 111 °F, then 4.9 and 5.0 qt of 210 °F water for 140 and 158 °F', () => {
    // A quart of water counts as one, a pound of malt as 0.2 of it.
    const draw: Draw = { ...CLOSED, gristKJKgK: 0.2 * 4.187, slaking: 0 };
    const kit = kitOf([{ id: 'tun' }, { id: 'pot' }]);
    const hotC = fahrenheit(210);
    const qt = (n: number) => n / (waterDensity(hotC) / 1000);
    const pour = (id: string, n: number): Move => ({
      id,
      kind: 'pour',
      from: 'pot',
      to: 'tun',
      route: 'at-once',
      litres: qt(n),
      hands: [],
    });
    const trace = simulate(
      kit,
      standing(kit, {
        tun: { tempC: fahrenheit(110.8), waterKg: 8 },
        pot: { tempC: hotC, waterKg: 20 },
      }),
      [
        {
          id: 'mash-in',
          kind: 'mash-in',
          vessel: 'tun',
          from: 'tun',
          litres: 8,
          grist: { kg: 8, tempC: fahrenheit(70), moisture: 0 },
          minutes: 0,
          hands: [],
        },
        pour('first', 4.94),
        pour('second', 5.02),
      ],
      { draw, moisture: 0 },
    );
    const landings = trace.moves.map((m) => m.toC * 1.8 + 32);
    [104, 140, 158].forEach((f, i) => {
      expect(Math.abs((landings[i] as number) - f)).toBeLessThan(0.1);
    });
  });
});

describe('heating and boiling, physics.md 4.3', () => {
  it('H1: 10 kg of pull at 3 kW', () => {
    const h1 = checks['H1 time to heat 10 kg decoction at 3.0 kW net'];
    const kit = {
      ...kitOf([{ id: 'pot' }], { burners: [burnerOf(3, 'pot')] }),
      boilingPointC: 100.17,
    };
    const dry = (8 / 36) * 10 * (1 - MOISTURE);
    const up = (id: string, to: number | 'boil'): Move => ({
      id,
      kind: 'heat',
      vessel: 'pot',
      burner: 'burner-pot',
      to,
      lidOn: true,
      hands: [],
    });
    const trace = simulate(
      kit,
      standing(kit, { pot: { tempC: 52, waterKg: 10 - dry, solidsKg: dry } }),
      [
        up('a', 72),
        up('b', 'boil'),
        {
          id: 'boil',
          kind: 'boil',
          vessel: 'pot',
          burner: 'burner-pot',
          minutes: 15,
          power: 1,
          hands: [],
        },
      ],
      { draw: S1, moisture: MOISTURE },
    );
    const [a, b, boil] = trace.moves;
    expect((a?.endMin ?? 0) - (a?.startMin ?? 0)).toBeCloseTo(h1.t_52_72_min, 2);
    expect((b?.endMin ?? 0) - (b?.startMin ?? 0)).toBeCloseTo(h1.t_72_100_min, 2);
    expect(boil?.evaporatedKg).toBeCloseTo(h1.evap_15min_kg, 3);
  });

  it('H2: 40 kg of liquor from 15 to 78 °C at 3.5 kW', () => {
    const kit = kitOf([{ id: 'pot' }], { burners: [burnerOf(3.5, 'pot')] });
    const trace = simulate(
      kit,
      standing(kit, { pot: { tempC: 15, waterKg: 40 } }),
      [
        {
          id: 'up',
          kind: 'heat',
          vessel: 'pot',
          burner: 'burner-pot',
          to: 78,
          lidOn: true,
          hands: [],
        },
      ],
      { draw: CLOSED },
    );
    // One heat capacity for all temperatures: within 0.2 %.
    expect(
      Math.abs(
        (trace.moves[0]?.endMin ?? 0) - checks['H2 heat 40 kg water 15->78 at 3.5 kW net'].min,
      ),
    ).toBeLessThan(0.1);
  });

  it('K1: 30 L of 12 °P wort at 100 °C are 28.80 L at 20 °C', () => {
    const at = (tempC: number, kg: number) =>
      liquidVolume({
        vessel: '',
        clockMin: 0,
        tempC,
        waterKg: 0.88 * kg,
        solidsKg: 0,
        extractKg: 0.12 * kg,
      });
    expect(at(20, 30 / at(100, 1))).toBeCloseTo(checks['K1 contraction'].V_20C_L, 2);
  });
});

describe('losses, physics.md 3.4 and 3.5', () => {
  /** Mean loss over one minute [kW]. */
  function lossKW(
    vessel: Partial<Vessel> & { id: string },
    tempC: number,
    waterKg: number,
    airC: number,
    minutes = 1,
  ) {
    const kit = kitOf([vessel], { airC });
    const { ledger, end } = simulate(kit, standing(kit, { [vessel.id]: { tempC, waterKg } }), [
      { id: 'wait', kind: 'wait', vessel: vessel.id, minutes, lidOn: false, hands: [] },
    ]);
    const sensible = ledger.vapourKg * 4.187 * tempC;
    return {
      kW: (ledger.wallLossKJ + ledger.surfaceLossKJ + ledger.vapourKJ - sensible) / (60 * minutes),
      endC: end.vessels[0]?.tempC as number,
    };
  }

  it('12 kg at 98 °C in an open 45 cm pot lose about 1.75 kW, some 7 K in 3 min', () => {
    const heatKg = (12 * 3.634) / 4.187;
    const pot = { id: 'pot', diameterM: 0.45, brimL: 40 };
    expect(Math.abs(lossKW(pot, 98, heatKg, 20, 0.01).kW / 1.75 - 1)).toBeLessThan(0.05);
    const drop = 98 - lossKW(pot, 98, heatKg, 20, 3).endC;
    // 7.2 K at the rate it starts with; it slows as the pot cools.
    expect(drop).toBeGreaterThan(6.3);
    expect(drop).toBeLessThan(7.4);
  });

  it('an open 40 cm pot at 65 °C loses 380 W from its surface', () => {
    const { kW } = lossKW({ id: 'pot', diameterM: 0.4, brimL: 50 }, 65, 50, 20, 0.01);
    expect(Math.abs(kW / 0.38 - 1)).toBeLessThan(0.05);
  });

  it('10 ft2 of surface and 50 ft2 of bare wall at 150 °F lose 19 400 Btu/h (open-tank table)', () => {
    const ft2 = 0.09290304;
    const tank = {
      id: 'tank',
      diameterM: Math.sqrt((4 / Math.PI) * 10 * ft2),
      lossWK: 11.4 * 50 * ft2,
      brimL: 900,
    };
    const { kW } = lossKW(tank, fahrenheit(150), 900, fahrenheit(60), 0.01);
    expect(Math.abs((kW * 3412.14) / 19_400 - 1)).toBeLessThan(0.05);
  });
});
