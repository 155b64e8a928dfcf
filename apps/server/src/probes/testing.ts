/** A probe saved on a running server, for tests. */
import type { Probe } from '@ladlework/log';
import { Tablet } from '@ladlework/log/testing';
import { post, type TestServer } from '../testing.ts';

export interface SavedProbe {
  readonly probe: Probe;
  readonly token: string;
  /** Posts what a device would send. */
  send(body: string, type?: string, token?: string): Promise<{ status: number; json: unknown }>;
}

let saves = 0;

export async function saveProbe(
  server: TestServer,
  change: Partial<Probe> & { readonly id: string },
): Promise<SavedProbe> {
  const probe: Probe = {
    name: 'Tun probe',
    kit: 'k1',
    vessel: 'tun',
    what: 'temp',
    unit: '°C',
    sd: 0.5,
    points: [],
    offset: 0,
    token: 1,
    ...change,
  };
  saves += 1;
  const tablet = new Tablet(`setup-${saves}`, 'B', `probe:${probe.id}`);
  const event = tablet.wait(saves).write('probe-saved', { probe });
  const saved = await post(`${server.url}/api/events`, { events: [event] });
  if (!JSON.stringify(saved.json).includes('"ok":true'))
    throw new Error(JSON.stringify(saved.json));
  const access = await fetch(`${server.url}/api/probes/${probe.id}/access`);
  const { http } = (await access.json()) as { http: { path: string; token: string } };
  return {
    probe,
    token: http.token,
    send: async (body, type = 'application/json', token = http.token) => {
      const response = await fetch(`${server.url}${http.path}`, {
        method: 'POST',
        headers: { 'content-type': type, authorization: `Bearer ${token}` },
        body,
      });
      return { status: response.status, json: await response.json() };
    },
  };
}

/** What a server knows of one probe. */
export async function lineOf(server: TestServer, id: string) {
  const answer = (await (await fetch(`${server.url}/api/probes`)).json()) as {
    probes: {
      probe: { id: string };
      by?: string;
      problem?: { message: string };
      newest?: { atMs: number; shows: number; value: number };
    }[];
  };
  return answer.probes.find((p) => p.probe.id === id);
}

/** Asks again until it is so. */
export async function until<T>(ask: () => Promise<T | undefined>, what: string): Promise<T> {
  for (let n = 0; n < 200; n += 1) {
    const got = await ask();
    if (got !== undefined) return got;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error(`${what} did not come`);
}
