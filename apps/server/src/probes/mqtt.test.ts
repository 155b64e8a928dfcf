/**
 * Probes over MQTT with real peers: the client library of another project against our own broker,
 * and ourselves at a house's broker. That is mosquitto where it is installed, else a broker
 * process of aedes stands in for it; the name of the test says which.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { connect as connectSocket, createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connectAsync, type MqttClient } from 'mqtt';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type TestServer, testServer } from '../testing.ts';
import { lineOf, type SavedProbe, saveProbe, until } from './testing.ts';

const clients: MqttClient[] = [];
async function client(url: string, user: string, password: string, clientId?: string) {
  const made = await connectAsync(url, {
    username: user,
    password,
    reconnectPeriod: 0,
    ...(clientId !== undefined && { clientId }),
  });
  clients.push(made);
  return made;
}
afterAll(async () => {
  for (const c of clients) await c.endAsync(true);
});

const newest = (server: TestServer, id: string, value: number) =>
  until(async () => {
    const line = await lineOf(server, id);
    return line?.newest?.shows === value ? line : undefined;
  }, `${id} ${value}`);

describe('our own broker', () => {
  let server: TestServer;
  let url: string;
  let tun: SavedProbe;
  let pot: SavedProbe;
  beforeAll(async () => {
    server = await testServer({ mqtt: { own: { port: 0, host: '127.0.0.1' } } });
    tun = await saveProbe(server, { id: 'tun' });
    pot = await saveProbe(server, { id: 'pot', unit: '°F' });
    const access = await (await fetch(`${server.url}/api/probes/tun/access`)).json();
    url = `mqtt://127.0.0.1:${(access as { mqtt: { port: number } }).mqtt.port}`;
  });
  afterAll(() => server.end());

  it('M1 takes a bare number and JSON, from each probe by its own name', async () => {
    const one = await client(url, 'tun', tun.token);
    await one.publishAsync('ladlework/probe/tun', '62.4', { qos: 1 });
    expect(await newest(server, 'tun', 62.4)).toMatchObject({ by: 'mqtt' });
    await one.publishAsync('ladlework/probe/tun', '{"value": "62.9 °C"}', { qos: 0 });
    await newest(server, 'tun', 62.9);
    const two = await client(url, 'pot', pot.token);
    await two.publishAsync('ladlework/probe/pot', '212', { qos: 2 });
    await newest(server, 'pot', 100);
  });

  it('M2 refuses a wrong password, an unknown name and none at all', async () => {
    for (const [user, password] of [
      ['tun', pot.token],
      ['nobody', tun.token],
      ['', ''],
    ] as const)
      await expect(client(url, user, password)).rejects.toThrow(/[Nn]ot authori|Bad/);
  });

  it('M3 a probe speaks for itself only, and nobody listens', async () => {
    const one = await client(url, 'tun', tun.token);
    const cut = new Promise((resolve) => one.once('close', () => resolve(true)));
    one.publish('ladlework/probe/pot', '99');
    await cut;
    expect((await lineOf(server, 'pot'))?.newest?.shows).toBe(100);
    const two = await client(url, 'tun', tun.token);
    await expect(two.subscribeAsync('ladlework/probe/#')).rejects.toThrow();
  });

  it('M4 another’s line is not spoken for by taking its client id', async () => {
    const first = await client(url, 'tun', tun.token, 'same');
    const cut = new Promise((resolve) => first.once('close', () => resolve(true)));
    const second = await client(url, 'pot', pot.token, 'same');
    await cut;
    await second.publishAsync('ladlework/probe/pot', '50', { qos: 1 });
    // 50 °F is 10 °C exactly.
    await newest(server, 'pot', 10);
  });

  it('M5 a bad payload is told once, and the line goes on', async () => {
    const one = await client(url, 'tun', tun.token);
    for (let n = 0; n < 3; n += 1)
      await one.publishAsync('ladlework/probe/tun', 'warm', { qos: 1 });
    await one.publishAsync('ladlework/probe/tun', '{"value":', { qos: 1 });
    const told = server.lines.filter((l) => l.includes('(tun)'));
    expect(told.filter((l) => l.includes('warm'))).toHaveLength(1);
    await one.publishAsync('ladlework/probe/tun', '61', { qos: 1 });
    await newest(server, 'tun', 61);
  });

  it('M6 a packet that announces 200 MB is cut off before it is read', async () => {
    const { port } = new URL(url);
    const socket = connectSocket(Number(port), '127.0.0.1');
    const closed = new Promise((resolve) => socket.once('close', resolve));
    socket.on('error', () => undefined);
    // CONNECT with a remaining length of 200 MB. [MQTT 3.1.1 section 2.2.3]
    socket.write(Buffer.from([0x10, 0x80, 0x80, 0xb0, 0x5f]));
    socket.write(Buffer.alloc(1024));
    await closed;
    expect(server.lines.some((l) => l.includes('was announced'))).toBe(true);
    await expect(client(url, 'tun', tun.token)).resolves.toBeDefined();
  });
});

const MOSQUITTO = ['/usr/sbin/mosquitto', '/usr/bin/mosquitto', '/usr/local/sbin/mosquitto'].find(
  existsSync,
);
const PEER = MOSQUITTO === undefined ? 'aedes in a process of its own' : 'mosquitto';

describe(`a house's broker (${PEER})`, () => {
  const folder = mkdtempSync(join(tmpdir(), 'ladlework-mqtt-'));
  let peer: ChildProcess;
  let port: number;
  let server: TestServer;
  const start = async () => {
    peer = startPeer(port, folder);
    await until(() => reachable(port), `${PEER} on port ${port}`);
  };
  beforeAll(async () => {
    port = await freePort();
    await start();
    server = await testServer({ mqtt: { house: { url: `mqtt://127.0.0.1:${port}` } } });
  });
  afterAll(async () => {
    await server.end();
    peer.kill('SIGKILL');
    rmSync(folder, { recursive: true, force: true });
  });

  it('H1 hears a probe at its usual topic and at one of its own', async () => {
    await saveProbe(server, { id: 'h1', topic: 'brewhouse/tun/temperature' });
    const device = await client(`mqtt://127.0.0.1:${port}`, 'any', 'any');
    await device.publishAsync('ladlework/probe/h1', '64', { qos: 1 });
    await newest(server, 'h1', 64);
    // The topic is looked up a few seconds after the probe was saved; devices go on sending.
    await until(async () => {
      await device.publishAsync('brewhouse/tun/temperature', '63.5', { qos: 1 });
      await new Promise((resolve) => setTimeout(resolve, 400));
      return (await lineOf(server, 'h1'))?.newest?.shows === 63.5 ? true : undefined;
    }, 'its own topic');
  });

  it('H2 a kept message of a dead device is not taken for a reading', async () => {
    await saveProbe(server, { id: 'h2' });
    const device = await client(`mqtt://127.0.0.1:${port}`, 'any', 'any');
    await device.publishAsync('ladlework/probe/h2', '55', { qos: 1, retain: true });
    await newest(server, 'h2', 55);
    const again = await testServer({ mqtt: { house: { url: `mqtt://127.0.0.1:${port}` } } });
    await saveProbe(again, { id: 'h2' });
    await device.publishAsync('ladlework/probe/h1', '1', { qos: 1 });
    await new Promise((resolve) => setTimeout(resolve, 500));
    expect((await lineOf(again, 'h2'))?.newest).toBeUndefined();
    await again.end();
  });

  it('H3 comes back when the broker does', { timeout: 30_000 }, async () => {
    await saveProbe(server, { id: 'h3' });
    peer.kill('SIGKILL');
    await until(
      async () => (server.lines.some((l) => l.startsWith('mqtt: ')) ? true : undefined),
      'the line about it',
    );
    await start();
    const device = await client(`mqtt://127.0.0.1:${port}`, 'any', 'any');
    await until(async () => {
      await device.publishAsync('ladlework/probe/h3', '70', { qos: 1 });
      await new Promise((resolve) => setTimeout(resolve, 300));
      return (await lineOf(server, 'h3'))?.newest?.shows === 70 ? true : undefined;
    }, 'a reading after the restart');
  });
});

function startPeer(port: number, folder: string): ChildProcess {
  if (MOSQUITTO !== undefined) {
    const file = join(folder, 'mosquitto.conf');
    writeFileSync(file, `listener ${port} 127.0.0.1\nallow_anonymous true\npersistence false\n`);
    return spawn(MOSQUITTO, ['-c', file], { stdio: 'ignore' });
  }
  const program = `import { createServer } from 'node:net';
    const { Aedes } = await import(${JSON.stringify(import.meta.resolve('aedes'))});
    const aedes = await Aedes.createBroker();
    createServer(aedes.handle).listen(${port}, '127.0.0.1');`;
  return spawn(process.execPath, ['--input-type=module', '-e', program], { stdio: 'ignore' });
}

async function freePort(): Promise<number> {
  const holder = createServer();
  await new Promise<void>((resolve) => holder.listen(0, '127.0.0.1', resolve));
  const address = holder.address();
  await new Promise((resolve) => holder.close(resolve));
  if (address === null || typeof address === 'string') throw new Error('no free port');
  return address.port;
}

function reachable(port: number): Promise<true | undefined> {
  return new Promise((resolve) => {
    const socket = connectSocket(port, '127.0.0.1');
    socket.once('connect', () => {
      socket.destroy();
      resolve(true);
    });
    socket.once('error', () => resolve(undefined));
  });
}
