/** `probe FILE`: a simulated probe that hangs in a vessel of a brew file's day and sends. */
import { setTimeout as wait } from 'node:timers/promises';
import { EXIT, type ExitCode, type Output, refuse, writeJson } from '../output.ts';
import { readBrews } from '../plan/brew-file.ts';
import { FaultyProbe, readFaults } from './faults.ts';
import { hiddenDay } from './hidden-day.ts';
import { openSender, type Sender, type Sent } from './sender.ts';

export interface ProbeCommandOptions {
  readonly probe: string;
  readonly token: string;
  readonly to: string;
  readonly mqtt?: string;
  readonly user?: string;
  readonly topic?: string;
  readonly vessel?: string;
  /** Minute of the day it begins at. */
  readonly at: number;
  /** Minutes of the day it plays; to the end when left out. */
  readonly minutes?: number;
  /** Minutes of the day that go by in one. */
  readonly speed: number;
  /** Seconds of the day between two readings. */
  readonly every: number;
  /** Minutes it was cut off before it began: sent first, with their own times. */
  readonly late: number;
  readonly faults: string;
  readonly seed: number;
  readonly json: boolean;
}

/** Readings in one message of a batch; the server takes 1000. */
const BATCH = 500;
/** A second for each message of a batch: five a second are taken. */
const BATCH_MS = 250;

/**
 * Sends a day's readings until it is over or `ended` resolves.
 *
 * @param now clock [ms since 1970], for the times of what was cut off
 * @returns 0 when all was sent, 1 when the server refused, 2 when file or options are wrong
 */
export async function probeCommand(
  output: Output,
  file: string,
  options: ProbeCommandOptions,
  now: () => number,
  ended: Promise<unknown>,
): Promise<ExitCode> {
  const brews = await readBrews(file);
  if (!brews.ok) return refuse(output, ...brews.error);
  const faults = readFaults(options.faults);
  if (!faults.ok) return refuse(output, faults.error);
  const [document] = brews.value;
  if (document === undefined) return refuse(output, `${file} has no brew.`);
  const vessels = document.kit.vessels.map((v) => v.id);
  const vessel = options.vessel ?? document.mash.tun;
  if (!vessels.includes(vessel))
    return refuse(output, `--vessel is "${vessel}"; allowed: ${vessels.join(', ')}.`);

  const day = hiddenDay(document, options.seed);
  const probe = new FaultyProbe(faults.value, options.seed);
  const until = Math.min(day.endMin, options.at + (options.minutes ?? day.endMin));
  const stop = { told: false };
  void ended.then(() => {
    stop.told = true;
  });
  let sent = 0;
  let sender: Sender | undefined;
  try {
    sender = await openSender({
      probe: options.probe,
      token: options.token,
      to: options.to,
      ...(options.mqtt !== undefined && { mqtt: options.mqtt }),
      ...(options.user !== undefined && { user: options.user }),
      ...(options.topic !== undefined && { topic: options.topic }),
    });
    const step = options.every / 60;
    const beganMs = now();
    const count = Math.floor((until - options.at) / step + 1e-9) + 1;
    const late = Math.min(count, Math.ceil(options.late / step - 1e-9));
    const cutOff: Sent[] = [];
    for (let n = 0; n < late; n += 1) {
      const minute = options.at + n * step;
      const value = probe.shows(day.tempC(vessel, minute), minute);
      const atMs = Math.round(beganMs - (options.at + options.late - minute) * 60_000);
      if (value !== undefined) cutOff.push({ value, atMs });
    }
    for (let i = 0; i < cutOff.length; i += BATCH) {
      await sender.send(cutOff.slice(i, i + BATCH));
      sent += cutOff.slice(i, i + BATCH).length;
      await wait(BATCH_MS);
    }
    for (let n = late; n < count && !stop.told; n += 1) {
      const minute = options.at + n * step;
      const value = probe.shows(day.tempC(vessel, minute), minute);
      if (value !== undefined) {
        await sender.send([{ value }]);
        sent += 1;
        if (!options.json && sent % TELL_EACH === 1)
          output.out(`minute ${minute.toFixed(0).padStart(4)}  ${value.toFixed(2)} °C\n`);
      }
      await Promise.race([wait((options.every * 1000) / options.speed), ended]);
    }
  } catch (thrown) {
    output.err(`${thrown instanceof Error ? thrown.message : String(thrown)}\n`);
    return EXIT.failed;
  } finally {
    await sender?.close();
  }
  if (options.json) writeJson(output, { probe: options.probe, vessel, sent });
  else output.out(`${sent} readings of ${vessel} sent as ${options.probe}\n`);
  return EXIT.ok;
}

/** Lines for the eye: one reading in so many. */
const TELL_EACH = 60;
