/**
 * `npm start`: the page built when stale, then the server, in this one process, so that ending
 * this ends all of it.
 */
import { register } from 'tsx/esm/api';
import { ensurePage } from './page.mjs';

try {
  await ensurePage(console.log);
  register();
  const { startHouse } = await import('./start-server.ts');
  await startHouse(process.env);
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 1;
}
