/** What a request says of where it comes from. */
import type { Context } from 'hono';
import type { Env } from './context.ts';

/** Address a request came from. */
export function addressOf(c: Context<Env>): string {
  const address = c.env.incoming.socket.remoteAddress ?? '';
  return address.startsWith('::ffff:') ? address.slice('::ffff:'.length) : address;
}

/** Whether a request came by https. */
export function isSecure(c: Context<Env>): boolean {
  const { socket } = c.env.incoming;
  return 'encrypted' in socket && socket.encrypted === true;
}

export function isLoopback(address: string): boolean {
  return address === '::1' || /^127\./.test(address);
}

/** The name a request asked for, without port and brackets, lower case. */
export function hostOf(c: Context<Env>): string {
  const header = c.req.header('host') ?? '';
  const bracketed = /^\[([^\]]+)\](?::\d+)?$/.exec(header)?.[1];
  return (bracketed ?? header.replace(/:\d+$/, '')).toLowerCase();
}
