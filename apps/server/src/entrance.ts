/** What stands at the door when devices of the network may come. */
import type { Authority } from './authority.ts';
import type { Devices } from './devices.ts';
import type { PairCodes } from './pair-codes.ts';
import { isPrivateAddress, networkAddresses, ownNames } from './private-names.ts';

export interface Entrance {
  readonly devices: Devices;
  readonly codes: PairCodes;
  /** Undefined when no certificate could be made: then there is plain http only. */
  readonly authority: Authority | undefined;
  /** The machine itself must be paired too: a proxy stands in front, or others share it. */
  readonly pairAll: boolean;
  /** Set once the server listens. */
  port: number;
  /** The one address listened at; undefined for all of them. */
  readonly onlyAt: string | undefined;
}

/** Addresses of the page for people. */
export interface Places {
  /** By plain http, best first; at least one. */
  readonly plain: readonly [string, ...string[]];
  /** By https, those the certificate is made out to. */
  readonly secure: readonly string[];
}

/** Where devices find the page. The machine's name comes last: not every device can look it up. */
export function placesOf(entrance: Entrance): Places {
  const addresses = entrance.onlyAt === undefined ? networkAddresses() : [entrance.onlyAt];
  const own = ownNames();
  const names = own.names.filter((name) => name !== 'localhost');
  const at = (scheme: string, name: string) =>
    `${scheme}://${name.includes(':') ? `[${name}]` : name}:${entrance.port}`;
  const [first = '127.0.0.1', ...rest] = [...addresses, ...names];
  const signed = [...addresses.filter(isPrivateAddress), ...names];
  return {
    plain: [at('http', first), ...rest.map((name) => at('http', name))],
    secure: entrance.authority === undefined ? [] : signed.map((name) => at('https', name)),
  };
}

/**
 * The https address nearest to the one a device came by: the same name where the certificate has
 * it, else the first it has.
 *
 * @param host without port
 */
export function securePlace(entrance: Entrance, host: string): string | undefined {
  if (entrance.authority === undefined) return undefined;
  const own = ownNames();
  const has = own.names.includes(host) || own.addresses.includes(host);
  if (!has) return placesOf(entrance).secure[0];
  return `https://${host.includes(':') ? `[${host}]` : host}:${entrance.port}`;
}
