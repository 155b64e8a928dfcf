#!/usr/bin/env node
// Runs the TypeScript source as it stands: there is no build to be stale.
import { register } from 'tsx/esm/api';

register();
const { main } = await import('../src/index.ts');
process.exitCode = await main(process.argv.slice(2));
