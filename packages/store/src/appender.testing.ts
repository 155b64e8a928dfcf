/** Appends one reading after another and says so after each acknowledgement, until it is killed. */
import { writeSync } from 'node:fs';
import { Tablet } from '@ladlework/log/testing';
import { openStore } from './open.ts';

const [path = '', device = 't1'] = process.argv.slice(2);
const opened = openStore(path);
if (!opened.ok) throw new Error(opened.error.message);
const tablet = new Tablet(device, 'B');
for (;;) {
  const event = tablet.wait(1).temp(62);
  const outcome = await opened.store.append([event]);
  if (!outcome.ok) throw new Error(outcome.message);
  // Straight to the pipe: nothing of this process's own may hold an acknowledgement back.
  writeSync(1, `${event.id}\n`);
}
