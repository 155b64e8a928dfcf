/** The X.509 extension by which an authority gives up the right to sign for the rest of the world. */
import { isIP } from 'node:net';

export const NAME_CONSTRAINTS_OID = '2.5.29.30';

/**
 * DER of NameConstraints with permitted subtrees only. Names of a kind that is listed must lie in a
 * listed subtree; a DNS name permits itself and everything under it.
 *
 * @param zones DNS names, each up to 100 characters
 * @param blocks addresses with the length of their prefix [bit]
 * @throws {RangeError} for a block that is none
 * @source RFC 5280, 4.2.1.10
 */
export function nameConstraints(
  zones: readonly string[],
  blocks: readonly (readonly [address: string, prefix: number])[],
): Uint8Array {
  const DNS_NAME = 0x82;
  const IP_ADDRESS = 0x87;
  const subtree = (tag: number, base: Uint8Array) => tlv(0x30, tlv(tag, base));
  const subtrees = [
    ...zones.map((zone) => subtree(DNS_NAME, Buffer.from(zone, 'ascii'))),
    ...blocks.map(([address, prefix]) => {
      const bytes = addressBytes(address);
      return subtree(IP_ADDRESS, Buffer.concat([bytes, mask(prefix, bytes.length)]));
    }),
  ];
  return tlv(0x30, tlv(0xa0, Buffer.concat(subtrees)));
}

/** Tag, length in definite form, value. @source X.690, 8.1 */
function tlv(tag: number, value: Uint8Array): Buffer {
  const { length } = value;
  const lengthBytes =
    length < 0x80 ? [length] : length < 0x100 ? [0x81, length] : [0x82, length >> 8, length & 0xff];
  return Buffer.concat([Buffer.from([tag, ...lengthBytes]), value]);
}

function mask(prefix: number, bytes: number): Buffer {
  return Buffer.from(
    Array.from({ length: bytes }, (_, i) => {
      const bits = Math.min(8, Math.max(0, prefix - 8 * i));
      return (0xff00 >> bits) & 0xff;
    }),
  );
}

/** An address in network order, 4 or 16 bytes. */
function addressBytes(address: string): Buffer {
  const family = isIP(address);
  if (family === 4) return Buffer.from(address.split('.').map(Number));
  if (family !== 6) throw new RangeError(`${address} is no IP address`);
  const [left = '', right] = address.split('::');
  const words = (part: string) => (part === '' ? [] : part.split(':'));
  const [head, tail] = [words(left), words(right ?? '')];
  const zeros = right === undefined ? 0 : 8 - head.length - tail.length;
  const all = [...head, ...Array<string>(zeros).fill('0'), ...tail];
  return Buffer.from(
    all.flatMap((word) => [Number.parseInt(word, 16) >> 8, Number.parseInt(word, 16) & 0xff]),
  );
}
