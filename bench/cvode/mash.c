/*
 * The mash kinetics of docs/science/mash.md (plain or recommended set) solved by CVODE: BDF, Newton
 * with a dense matrix and analytic Jacobian, scalar relative and absolute tolerance. Written as a
 * user of CVODE would: one state vector, right side and Jacobian as they stand in the equations.
 *
 * Input on stdin:
 *   relative absolute repeats
 *   31 parameters in the order of struct P below
 *   17 bin weights
 *   malt_kg moisture starch preformed other liquor_kg
 *   run VESSEL t0 T0 t1 T1 | pull SOLID LIQUID | evaporate KG | return | end
 * Output: one line of 35 numbers per run, then "time MICROSECONDS steps N evaluations N".
 */
#include <cvode/cvode.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <time.h>

enum { OPEN = 17, AS = 18, A, BS, BL, BT, LS, LD, PS, PL, OS, OL, SG, G, M, T3, D, L, N };
enum { MOVES = 256 };

struct P {
  double mu, sig, sG, X0, width, fd, Tfd, kg65, Eg, kraw, ka65, kb65, rD, ka2, kl65, Ea, aG, aM, aT,
      aD, bM, kda65, Eda, kdb65, Edb, fst, kds, cprot, Xref, kdis, Edis;
};
static struct P p;
static double weight[17], offset[17];
static const double hG = 1.111, hM = 1.0556, hT = 1.037, bT = 0.1, dT = 0.18, cG = 0.1, cM = 0.25,
                    cT = 0.25, cL = 0.4, kdl65 = 0.06, Edl = 330000, uA = 1, uB = 0.5, uL = 0.5,
                    R = 8.314;

struct line {
  double t0, T0, slope, water;
};

static double arr(double k, double E, double x) { return k * exp(-E / R * x); }

static double extract(const double *y) {
  return y[SG] + y[G] + y[M] + y[T3] + y[D] + y[L] + y[PL] + y[OL];
}

static int rates(realtype t, N_Vector yv, N_Vector fv, void *user) {
  const struct line *q = user;
  const double *y = N_VGetArrayPointer(yv);
  double *f = N_VGetArrayPointer(fv);
  const double T = q->T0 + q->slope * (t - q->t0), x = 1 / (T + 273.15) - 1 / 338.15;
  const double W = q->water, E = extract(y), X = 100 * E / (E + W);
  const double kg = arr(p.kg65, p.Eg, x), kr = kg * p.kraw / p.kg65;
  const double shift = T - p.mu - p.sG * (X - p.X0);
  double opened = 0;
  const double base = exp(-shift / p.width);
  for (int i = 0; i < 17; i++) {
    const double o = 1 / (1 + base * offset[i]);
    f[i] = -(kr + (kg - kr) * o) * y[i];
    opened -= f[i];
  }
  f[OPEN] = -kg / (1 + exp((p.Tfd - T) / p.width)) * y[OPEN];
  opened -= f[OPEN];
  const double kd = arr(p.kdis, p.Edis, x), ka = arr(p.kda65, p.Eda, x), kl = arr(kdl65, Edl, x);
  const double kb = arr(p.kdb65, p.Edb, x) * exp(p.cprot * (p.Xref - X));
  const double act = arr(1, p.Ea, x) * 3 / W, cB = act * (y[BL] + y[BT]);
  const double v1 = p.ka65 * act * y[A] * y[SG], v2 = p.kb65 * cB * y[SG],
               v3 = p.kb65 * p.rD * cB * y[D], v4 = p.ka2 * act * y[A] * y[D],
               v5 = p.kl65 * act * y[LD] * y[L];
  f[AS] = -(kd + uA * ka) * y[AS];
  f[A] = kd * y[AS] - ka * y[A];
  f[BS] = -(kd + uB * kb) * y[BS];
  f[BL] = (1 - p.fst) * kd * y[BS] - kb * y[BL];
  f[BT] = p.fst * kd * y[BS] - p.kds * kb * y[BT];
  f[LS] = -(kd + uL * kl) * y[LS];
  f[LD] = kd * y[LS] - kl * y[LD];
  f[PS] = -kd * y[PS];
  f[PL] = kd * y[PS];
  f[OS] = -kd * y[OS];
  f[OL] = kd * y[OS];
  f[SG] = opened - v1 - v2;
  f[G] = hG * p.aG * v1 + cG * v4;
  f[M] = hM * (p.aM * v1 + p.bM * v2 + (1 - dT) * v3) + cM * v4;
  f[T3] = hT * (p.aT * v1 + bT * v2 + dT * v3) + cT * v4;
  f[D] = p.aD * v1 - v3 - v4 + v5;
  f[L] = (1 - p.aG - p.aM - p.aT - p.aD) * v1 + (1 - p.bM - bT) * v2 + cL * v4 - v5;
  return 0;
}

static int jacobian(realtype t, N_Vector yv, N_Vector fv, SUNMatrix J, void *user, N_Vector a,
                    N_Vector b, N_Vector c) {
  (void)fv, (void)a, (void)b, (void)c;
  const struct line *q = user;
  const double *y = N_VGetArrayPointer(yv);
#define JJ(i, j) SM_ELEMENT_D(J, i, j)
  const double T = q->T0 + q->slope * (t - q->t0), x = 1 / (T + 273.15) - 1 / 338.15;
  const double W = q->water, E = extract(y), X = 100 * E / (E + W);
  const double dX = 100 * W / ((E + W) * (E + W));
  const double kg = arr(p.kg65, p.Eg, x), kr = kg * p.kraw / p.kg65;
  const double base = exp(-(T - p.mu - p.sG * (X - p.X0)) / p.width);
  double byX[N] = {0}, sum = 0;
  for (int i = 0; i < 17; i++) {
    const double o = 1 / (1 + base * offset[i]), g = kr + (kg - kr) * o;
    JJ(i, i) = -g;
    JJ(SG, i) = g;
    byX[i] = (kg - kr) * o * (1 - o) * p.sG / p.width * y[i];
    sum += byX[i];
  }
  byX[SG] = -sum;
  const double g = kg / (1 + exp((p.Tfd - T) / p.width));
  JJ(OPEN, OPEN) = -g;
  JJ(SG, OPEN) = g;
  const double kd = arr(p.kdis, p.Edis, x), ka = arr(p.kda65, p.Eda, x), kl = arr(kdl65, Edl, x);
  const double kb = arr(p.kdb65, p.Edb, x) * exp(p.cprot * (p.Xref - X));
  JJ(AS, AS) = -(kd + uA * ka), JJ(A, AS) = kd, JJ(A, A) = -ka;
  JJ(BS, BS) = -(kd + uB * kb), JJ(BL, BS) = (1 - p.fst) * kd, JJ(BT, BS) = p.fst * kd;
  JJ(BL, BL) = -kb, JJ(BT, BT) = -p.kds * kb;
  JJ(LS, LS) = -(kd + uL * kl), JJ(LD, LS) = kd, JJ(LD, LD) = -kl;
  JJ(PS, PS) = -kd, JJ(PL, PS) = kd, JJ(OS, OS) = -kd, JJ(OL, OS) = kd;
  byX[BS] = uB * p.cprot * kb * y[BS];
  byX[BL] = p.cprot * kb * y[BL];
  byX[BT] = p.kds * p.cprot * kb * y[BT];
  const double act = arr(1, p.Ea, x) * 3 / W, beta = y[BL] + y[BT];
  const double aL = 1 - p.aG - p.aM - p.aT - p.aD, bL = 1 - p.bM - bT;
  /* v = coefficient; d/dstarch or dextrin, then d/denzyme */
  const double k1 = p.ka65 * act * y[A], k2 = p.kb65 * act * beta, k3 = k2 * p.rD,
               k4 = p.ka2 * act * y[A], k5 = p.kl65 * act * y[LD];
  const double e1 = p.ka65 * act * y[SG], e2 = p.kb65 * act * y[SG],
               e3 = p.kb65 * p.rD * act * y[D], e4 = p.ka2 * act * y[D], e5 = p.kl65 * act * y[L];
  const int row[6] = {SG, G, M, T3, D, L};
  const double by[6][5] = {{-1, -1, 0, 0, 0},
                           {hG * p.aG, 0, 0, cG, 0},
                           {hM * p.aM, hM * p.bM, hM * (1 - dT), cM, 0},
                           {hT * p.aT, hT * bT, hT * dT, cT, 0},
                           {p.aD, 0, -1, -1, 1},
                           {aL, bL, 0, cL, -1}};
  for (int r = 0; r < 6; r++) {
    const int i = row[r];
    JJ(i, SG) += by[r][0] * k1 + by[r][1] * k2;
    JJ(i, D) += by[r][2] * k3 + by[r][3] * k4;
    JJ(i, L) += by[r][4] * k5;
    JJ(i, A) += by[r][0] * e1 + by[r][3] * e4;
    JJ(i, BL) += by[r][1] * e2 + by[r][2] * e3;
    JJ(i, BT) += by[r][1] * e2 + by[r][2] * e3;
    JJ(i, LD) += by[r][4] * e5;
  }
  const int dissolved[8] = {SG, G, M, T3, D, L, PL, OL};
  for (int i = 0; i < N; i++)
    if (byX[i] != 0)
      for (int k = 0; k < 8; k++) JJ(i, dissolved[k]) += byX[i] * dX;
  return 0;
}

struct move {
  char op;
  int vessel;
  double a, b, c, d;
};

int main(void) {
  double relative, absolute;
  int repeats, restart;
  if (scanf("%lf %lf %d %d", &relative, &absolute, &repeats, &restart) != 4) return 2;
  double *param = (double *)&p;
  for (size_t i = 0; i < sizeof p / sizeof(double); i++)
    if (scanf("%lf", param + i) != 1) return 2;
  for (int i = 0; i < 17; i++)
    if (scanf("%lf", weight + i) != 1) return 2;
  double malt, moisture, starch, preformed, other, liquor;
  if (scanf("%lf %lf %lf %lf %lf %lf", &malt, &moisture, &starch, &preformed, &other, &liquor) != 6)
    return 2;
  for (int i = 0; i < 17; i++) offset[i] = exp(p.sig * (-2.6 + 0.325 * i) / p.width);
  static struct move moves[MOVES];
  int count = 0;
  char word[32];
  while (scanf("%31s", word) == 1 && strcmp(word, "end") != 0 && count < MOVES) {
    struct move *m = &moves[count++];
    m->op = word[0] == 'r' && word[1] == 'e' ? 'R' : word[0];
    int got = 0, want = 0;
    if (m->op == 'r') want = 5, got = scanf("%d %lf %lf %lf %lf", &m->vessel, &m->a, &m->b, &m->c, &m->d);
    if (m->op == 'p') want = 2, got = scanf("%lf %lf", &m->a, &m->b);
    if (m->op == 'e') want = 1, got = scanf("%lf", &m->a);
    if (got != want) return 2;
  }
  SUNContext context;
  if (SUNContext_Create(NULL, &context)) return 3;
  N_Vector y = N_VNew_Serial(N, context);
  SUNMatrix matrix = SUNDenseMatrix(N, N, context);
  SUNLinearSolver linear = SUNLinSol_Dense(y, matrix, context);
  void *cvode = CVodeCreate(CV_BDF, context);
  struct line line = {0};
  double *v = N_VGetArrayPointer(y);
  double vessel[2][N], water[2];
  if (CVodeInit(cvode, rates, 0, y) || CVodeSStolerances(cvode, relative, absolute * malt) ||
      CVodeSetLinearSolver(cvode, linear, matrix) || CVodeSetJacFn(cvode, jacobian) ||
      CVodeSetUserData(cvode, &line) || CVodeSetMaxNumSteps(cvode, 1000000))
    return 3;
  long steps = 0, evaluations = 0;
  struct timespec from, to;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &from);
  for (int run = 0; run < repeats; run++) {
    const double dry = malt * (1 - moisture);
    memset(vessel, 0, sizeof vessel);
    for (int i = 0; i < 17; i++) vessel[0][i] = starch * dry * (1 - p.fd) * weight[i];
    vessel[0][OPEN] = starch * dry * p.fd;
    vessel[0][PS] = preformed * dry, vessel[0][OS] = other * dry;
    vessel[0][AS] = vessel[0][BS] = vessel[0][LS] = malt;
    water[0] = liquor + malt * moisture, water[1] = 0;
    steps = evaluations = 0;
    int live = -1;
    double clock = 0;
    for (int k = 0; k < count; k++) {
      const struct move *m = &moves[k];
      if (m->op == 'r') {
        const double minutes = m->c - m->a;
        const int fresh = restart || live != m->vessel || fabs(clock - m->a) > 1e-9;
        memcpy(v, vessel[m->vessel], sizeof vessel[0]);
        line = (struct line){m->a, m->b, (m->d - m->b) / minutes, water[m->vessel]};
        if (fresh) {
          long s = 0, e = 0;
          CVodeGetNumSteps(cvode, &s), CVodeGetNumRhsEvals(cvode, &e);
          steps += s, evaluations += e;
          if (CVodeReInit(cvode, m->a, y)) return 3;
        }
        if (CVodeSetStopTime(cvode, m->c)) return 3;
        realtype reached;
        if (CVode(cvode, m->c, y, &reached, CV_NORMAL) < 0) return 3;
        memcpy(vessel[m->vessel], v, sizeof vessel[0]);
        live = m->vessel, clock = m->c;
        if (run == repeats - 1) {
          for (int i = 0; i < N; i++) printf("%.17g ", v[i]);
          printf("\n");
        }
      } else if (m->op == 'p') {
        for (int i = 0; i < N; i++) {
          const int solid = i <= OPEN || i == AS || i == BS || i == LS || i == PS || i == OS;
          vessel[1][i] = vessel[0][i] * (solid ? m->a : m->b);
          vessel[0][i] -= vessel[1][i];
        }
        water[1] = water[0] * m->b, water[0] -= water[1];
        live = -1;
      } else if (m->op == 'e') {
        water[1] -= m->a, live = -1;
      } else {
        for (int i = 0; i < N; i++) vessel[0][i] += vessel[1][i];
        water[0] += water[1], live = -1;
      }
    }
  }
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &to);
  long s = 0, e = 0;
  CVodeGetNumSteps(cvode, &s), CVodeGetNumRhsEvals(cvode, &e);
  printf("time %.3f steps %ld evaluations %ld\n",
         ((to.tv_sec - from.tv_sec) * 1e6 + (to.tv_nsec - from.tv_nsec) * 1e-3) / repeats, steps + s,
         evaluations + e);
  CVodeFree(&cvode);
  return 0;
}
