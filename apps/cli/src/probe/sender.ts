/** How a simulated probe sends: over HTTP, or to a broker. */
import type { MqttClient } from 'mqtt';

export interface Sent {
  readonly value: number;
  /** Left out for a reading as it is made. */
  readonly atMs?: number;
}

export interface Sender {
  /** Sends one reading, or several with their times. @throws Error with a sentence when refused */
  send(readings: readonly Sent[]): Promise<void>;
  close(): Promise<void>;
}

export interface SenderOptions {
  readonly probe: string;
  readonly token: string;
  /** Address of the server. */
  readonly to: string;
  /** Broker to send to instead. */
  readonly mqtt?: string;
  readonly user?: string;
  readonly topic?: string;
}

const PATIENCE_MS = 10_000;

export async function openSender(options: SenderOptions): Promise<Sender> {
  return options.mqtt === undefined ? overHttp(options) : overMqtt(options, options.mqtt);
}

function overHttp({ probe, token, to }: SenderOptions): Sender {
  const url = `${to.replace(/\/+$/, '')}/api/probes/${encodeURIComponent(probe)}/readings`;
  return {
    send: async (readings) => {
      const response = await fetch(url, {
        method: 'POST',
        headers: { 'content-type': 'application/json', authorization: `Bearer ${token}` },
        body: JSON.stringify(bodyOf(readings)),
        signal: AbortSignal.timeout(PATIENCE_MS),
      });
      if (response.ok) return;
      const answer: unknown = await response.json().catch(() => undefined);
      throw new Error(messageOf(answer) ?? `${url} answered ${response.status}`);
    },
    close: async () => undefined,
  };
}

async function overMqtt(options: SenderOptions, url: string): Promise<Sender> {
  const { connectAsync } = await import('mqtt');
  const topic = options.topic ?? `ladlework/probe/${options.probe}`;
  const client: MqttClient = await connectAsync(url, {
    username: options.user ?? options.probe,
    password: options.token,
    connectTimeout: PATIENCE_MS,
  });
  return {
    send: async (readings) => {
      await client.publishAsync(topic, JSON.stringify(bodyOf(readings)), { qos: 1 });
    },
    close: () => client.endAsync(),
  };
}

const bodyOf = (readings: readonly Sent[]): unknown =>
  readings.length === 1 && readings[0]?.atMs === undefined ? readings[0] : readings;

function messageOf(answer: unknown): string | undefined {
  if (typeof answer !== 'object' || answer === null || !('error' in answer)) return undefined;
  const { error } = answer;
  return typeof error === 'object' && error !== null && 'message' in error
    ? String(error.message)
    : undefined;
}
