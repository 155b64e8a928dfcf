/** Names and addresses that mean nothing on the internet: all that our authority may ever sign for. */
import { BlockList, isIP } from 'node:net';
import { hostname, networkInterfaces } from 'node:os';

/**
 * Zones that no public registry hands out. A name of one word is not among them: a machine called
 * "beer" would make the authority good for every name under a public zone of that name.
 *
 * @source RFC 6762 (local), RFC 6761 (localhost), RFC 8375 (home.arpa), ICANN board resolution
 *   2024-07-29 (internal); lan: common practice of routers, not delegated
 */
export const PRIVATE_ZONES = ['local', 'localhost', 'home.arpa', 'internal', 'lan'] as const;

/**
 * Address blocks that are not globally reachable.
 *
 * @source IANA special-purpose address registries (RFC 6890): RFC 1918, 1122, 3927, 6598, 5737,
 *   2544; RFC 4193, 4291
 */
export const PRIVATE_BLOCKS: readonly (readonly [address: string, prefix: number])[] = [
  ['10.0.0.0', 8],
  ['172.16.0.0', 12],
  ['192.168.0.0', 16],
  ['127.0.0.0', 8],
  ['169.254.0.0', 16],
  ['100.64.0.0', 10],
  ['192.0.2.0', 24],
  ['198.51.100.0', 24],
  ['203.0.113.0', 24],
  ['198.18.0.0', 15],
  ['fc00::', 7],
  ['fe80::', 10],
  ['::1', 128],
];

const blocks = new BlockList();
for (const [address, prefix] of PRIVATE_BLOCKS) {
  blocks.addSubnet(address, prefix, isIP(address) === 4 ? 'ipv4' : 'ipv6');
}

/** True for an address of a block above. */
export function isPrivateAddress(address: string): boolean {
  const family = isIP(address);
  return family !== 0 && blocks.check(address, family === 4 ? 'ipv4' : 'ipv6');
}

/** True for a name that lies in a zone above. */
function isPrivateName(name: string): boolean {
  return PRIVATE_ZONES.some((zone) => name === zone || name.endsWith(`.${zone}`));
}

/** What a server certificate is made out to. */
export interface OwnNames {
  readonly names: readonly string[];
  readonly addresses: readonly string[];
}

/** One line of `os.networkInterfaces()`, as far as it is looked at. */
export interface InterfaceAddress {
  readonly address: string;
  readonly internal: boolean;
}

/**
 * Names and addresses of this machine that may be signed for, in an order that does not depend on
 * the order of its interfaces.
 *
 * @param host as the machine calls itself
 * @param found addresses of its interfaces; link-local IPv6 is left out, no browser opens it
 */
export function ownNames(
  host: string = hostname(),
  found: readonly InterfaceAddress[] = interfaceAddresses(),
): OwnNames {
  const own = host.toLowerCase();
  const [word = own] = own.split('.');
  const names = new Set(['localhost', ...(isDnsWord(word) ? [`${word}.local`] : [])]);
  if (isPrivateName(own)) names.add(own);
  const addresses = found
    .map((a) => a.address)
    .filter((a) => isPrivateAddress(a) && !a.toLowerCase().startsWith('fe80:'));
  return {
    names: [...names].sort(),
    addresses: [...new Set(['127.0.0.1', '::1', ...addresses])].sort(),
  };
}

/** A name others can look up; a machine may call itself anything. @source RFC 1123, 2.1 */
const isDnsWord = (word: string) => /^[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?$/.test(word);

/**
 * Addresses by which others reach this machine, IPv4 first.
 *
 * @param found addresses of its interfaces
 */
export function networkAddresses(
  found: readonly InterfaceAddress[] = interfaceAddresses(),
): string[] {
  const reachable = found
    .filter((a) => !a.internal && !a.address.toLowerCase().startsWith('fe80:'))
    .map((a) => a.address);
  return reachable.sort((a, b) => isIP(a) - isIP(b));
}

function interfaceAddresses(): InterfaceAddress[] {
  return Object.values(networkInterfaces()).flatMap((list) => list ?? []);
}
