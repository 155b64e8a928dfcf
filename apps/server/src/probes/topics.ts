/** Where on a broker probes are heard, and what a message there means. */
import type { Probe } from '@ladlework/log';
import type { Probes } from './probes.ts';

/** Followed by the probe's id. */
export const TOPIC_ROOT = 'ladlework/probe/';
/** As over HTTP. */
const MOST_BYTES = 64 * 1024;

/** Reads one message of a probe: JSON, or the text of a bare number. */
export async function takeMessage(
  probes: Probes,
  probe: Probe,
  payload: Uint8Array | string,
): Promise<void> {
  if (payload.length > MOST_BYTES) {
    probes.refuse(probe, `A message of ${payload.length} bytes; allowed: ${MOST_BYTES}.`);
    return;
  }
  const text = (typeof payload === 'string' ? payload : new TextDecoder().decode(payload)).trim();
  let json: unknown = text;
  if (/^[[{"]/.test(text)) {
    try {
      json = JSON.parse(text);
    } catch {
      probes.refuse(probe, `The message begins like JSON and is none: ${text.slice(0, 60)}`);
      return;
    }
  }
  await probes.take(probe, json, 'mqtt');
}
