/** Draws the plots of docs/science anew from the measured rows the tests use. Run after a change of the kinetics. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { drawChart } from './plots/chart.ts';
import { mashPlots } from './plots/mash.ts';
import { root } from './source-scan.ts';

const folder = `${root}docs/science/plots/`;
mkdirSync(folder, { recursive: true });
for (const [name, chart] of mashPlots()) writeFileSync(folder + name, drawChart(chart));
