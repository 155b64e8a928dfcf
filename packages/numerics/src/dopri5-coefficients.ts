/**
 * Dormand-Prince 5(4): explicit, seven stages of which the last is the first of the next step.
 *
 * @source Dormand & Prince 1980, J. Comput. Appl. Math. 6(1):19-26, table 2
 */
export const DOPRI5 = {
  c2: 1 / 5,
  c3: 3 / 10,
  c4: 4 / 5,
  c5: 8 / 9,
  a21: 1 / 5,
  a31: 3 / 40,
  a32: 9 / 40,
  a41: 44 / 45,
  a42: -56 / 15,
  a43: 32 / 9,
  a51: 19372 / 6561,
  a52: -25360 / 2187,
  a53: 64448 / 6561,
  a54: -212 / 729,
  a61: 9017 / 3168,
  a62: -355 / 33,
  a63: 46732 / 5247,
  a64: 49 / 176,
  a65: -5103 / 18656,
  b1: 35 / 384,
  b3: 500 / 1113,
  b4: 125 / 192,
  b5: -2187 / 6784,
  b6: 11 / 84,
  e1: 71 / 57600,
  e3: -71 / 16695,
  e4: 71 / 1920,
  e5: -17253 / 339200,
  e6: 22 / 525,
  e7: -1 / 40,
} as const;
