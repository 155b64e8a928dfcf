/**
 * The brewery's own certificate authority: a root that devices trust, a signer under it, and the
 * certificate of the server. Why three: docs/decisions/0025-own-authority.md.
 */
import 'reflect-metadata';
import { createHash, X509Certificate as NodeCertificate, webcrypto } from 'node:crypto';
import { chmodSync, existsSync, mkdirSync, readFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import * as x509 from '@peculiar/x509';
import { keepFile } from './keep-file.ts';
import { NAME_CONSTRAINTS_OID, nameConstraints } from './name-constraints.ts';
import { type OwnNames, PRIVATE_BLOCKS, PRIVATE_ZONES } from './private-names.ts';

const DAY_MS = 86_400_000;
/** Devices must trust a new root when this one ends; a kit lives longer. */
const ROOT_DAYS = 10 * 365;
/** Below the most that any platform takes of a root its user added: 825 days, and 398 of others. */
const SERVER_DAYS = 180;
const RENEW_BEFORE_DAYS = 60;
/** A tablet whose clock is some days late must not find a certificate of tomorrow. */
const BACKDATED_DAYS = 7;
/** When this was written: a clock before it is not set. */
const NOT_BEFORE_THIS_MS = Date.UTC(2026, 10, 1);

const KEYS = { name: 'ECDSA', namedCurve: 'P-256' } as const;
const SIGNED_BY = { name: 'ECDSA', hash: 'SHA-256' } as const;

/** What the TLS side of the server needs. PEM. */
export interface ServerCertificate {
  readonly key: string;
  /** The server's own, then the signer's. */
  readonly chain: string;
  readonly notAfterMs: number;
}

export interface Authority {
  /** The root as devices take it in, PEM and DER. */
  readonly rootPem: string;
  readonly rootDer: Buffer;
  /** SHA-256 of the DER, to be compared by eye: "3F 0A …", sixteen groups of two bytes. */
  readonly fingerprint: string;
  /** As devices list it. */
  readonly name: string;
  readonly notAfterMs: number;
  /**
   * The server's certificate: the kept one while it is made out to these names and does not end
   * soon, else a new one.
   */
  serverCertificate(own: OwnNames, nowMs: number): Promise<ServerCertificate>;
}

export type AuthorityOutcome =
  | { readonly ok: true; readonly authority: Authority }
  | { readonly ok: false; readonly message: string };

/**
 * Opens the authority of a folder, making it when there is none.
 *
 * The root's key is thrown away once it has signed the signer, so that nothing on this disk can
 * sign for a name outside the constraints, even for a device that passes over those of its roots.
 *
 * @param folder of its own; made, and closed to others
 * @param nowMs clock [ms since 1970]
 * @returns the authority, or why there is none; a damaged one is left as it is, because with a new
 *   one every device would have to be taught again
 */
export async function openAuthority(folder: string, nowMs: number): Promise<AuthorityOutcome> {
  if (nowMs < NOT_BEFORE_THIS_MS) {
    const shown = new Date(nowMs).toISOString().slice(0, 10);
    return {
      ok: false,
      message: `This machine’s clock says ${shown}. Set it, and start again: no certificate is made by a wrong clock.`,
    };
  }
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  chmodSync(folder, 0o700);
  const files = filesOf(folder);
  // The root is written last: without it, an earlier making was cut short.
  if (!existsSync(files.root)) await makeAuthority(files, nowMs);
  try {
    return { ok: true, authority: await readAuthority(files, nowMs) };
  } catch (thrown) {
    const detail = thrown instanceof Error ? thrown.message : String(thrown);
    return {
      ok: false,
      message: `The certificate authority in ${folder} cannot be used (${detail}). Restore that folder from a backup, or remove it to make a new one, which every device must then trust anew.`,
    };
  }
}

interface Files {
  readonly root: string;
  readonly signer: string;
  readonly signerKey: string;
  readonly server: string;
  readonly serverKey: string;
}

const filesOf = (folder: string): Files => ({
  root: join(folder, 'root.pem'),
  signer: join(folder, 'signer.pem'),
  signerKey: join(folder, 'signer.key'),
  server: join(folder, 'server.pem'),
  serverKey: join(folder, 'server.key'),
});

async function makeAuthority(files: Files, nowMs: number): Promise<void> {
  const rootKeys = await newKeys();
  const signerKeys = await newKeys();
  const [word = 'server'] = hostname().split('.');
  const made = new Date(nowMs).toISOString().slice(0, 10);
  const life = lifeOf(nowMs, ROOT_DAYS);
  const rootName = nameOf(`Ladlework ${word} ${made}`);
  const root = await x509.X509CertificateGenerator.create({
    ...life,
    serialNumber: newSerial(),
    subject: rootName,
    issuer: rootName,
    publicKey: rootKeys.publicKey,
    signingKey: rootKeys.privateKey,
    signingAlgorithm: SIGNED_BY,
    extensions: [...authorityExtensions(1), await keyName(rootKeys.publicKey)],
  });
  const signer = await x509.X509CertificateGenerator.create({
    ...life,
    serialNumber: newSerial(),
    subject: nameOf(`Ladlework ${word} signer ${made}`),
    issuer: rootName,
    publicKey: signerKeys.publicKey,
    signingKey: rootKeys.privateKey,
    signingAlgorithm: SIGNED_BY,
    extensions: [
      ...authorityExtensions(0),
      new x509.ExtendedKeyUsageExtension([x509.ExtendedKeyUsage.serverAuth]),
      await keyName(signerKeys.publicKey),
      await x509.AuthorityKeyIdentifierExtension.create(rootKeys.publicKey),
    ],
  });
  keepFile(files.signerKey, await pemOfKey(signerKeys.privateKey));
  keepFile(files.signer, `${signer.toString('pem')}\n`);
  keepFile(files.root, `${root.toString('pem')}\n`);
}

function authorityExtensions(pathLength: number): x509.Extension[] {
  return [
    new x509.BasicConstraintsExtension(true, pathLength, true),
    new x509.KeyUsagesExtension(x509.KeyUsageFlags.keyCertSign, true),
    new x509.Extension(
      NAME_CONSTRAINTS_OID,
      true,
      Uint8Array.from(nameConstraints(PRIVATE_ZONES, PRIVATE_BLOCKS)),
    ),
  ];
}

async function readAuthority(files: Files, nowMs: number): Promise<Authority> {
  const rootPem = readFileSync(files.root, 'utf8');
  const signerPem = readFileSync(files.signer, 'utf8');
  const root = new NodeCertificate(rootPem);
  const signer = new NodeCertificate(signerPem);
  const signerKey = await keyFromPem(readFileSync(files.signerKey, 'utf8'));
  if (!root.verify(root.publicKey)) throw new Error('the root does not verify');
  if (!signer.verify(root.publicKey)) throw new Error('the signer is not of this root');
  const notAfterMs = Math.min(Date.parse(root.validTo), Date.parse(signer.validTo));
  if (nowMs > notAfterMs) throw new Error(`it ended on ${root.validTo}`);
  const digest = createHash('sha256').update(root.raw).digest('hex').toUpperCase();
  return {
    rootPem,
    rootDer: root.raw,
    fingerprint: (digest.match(/.{4}/g) ?? []).join(' '),
    name: /^CN=(.*)$/m.exec(root.subject)?.[1] ?? root.subject,
    notAfterMs,
    serverCertificate: async (own, atMs) => {
      const kept = keptCertificate(files, signer, own, atMs);
      if (kept !== undefined) return kept;
      const made = await makeServerCertificate(signerPem, signerKey, own, atMs, notAfterMs);
      keepFile(files.serverKey, made.key);
      keepFile(files.server, made.chain);
      return made;
    },
  };
}

/** The certificate on disk, when it will do; one that cannot be read is made again. */
function keptCertificate(
  files: Files,
  signer: NodeCertificate,
  own: OwnNames,
  nowMs: number,
): ServerCertificate | undefined {
  if (!existsSync(files.server) || !existsSync(files.serverKey)) return undefined;
  const chain = readFileSync(files.server, 'utf8');
  let certificate: NodeCertificate;
  try {
    certificate = new NodeCertificate(chain);
  } catch {
    // Cut short by a failing disk: nothing hangs on the old one.
    return undefined;
  }
  const key = readFileSync(files.serverKey, 'utf8');
  const notAfterMs = Date.parse(certificate.validTo);
  // Near the end of the authority itself a new one would not live longer.
  const margin = Math.min(
    RENEW_BEFORE_DAYS * DAY_MS,
    (notAfterMs - Date.parse(certificate.validFrom)) / 3,
  );
  const fresh = Date.parse(certificate.validFrom) <= nowMs && nowMs < notAfterMs - margin;
  const wanted = [
    ...own.names.map((n) => `DNS:${n}`),
    ...own.addresses.map((a) => `IP Address:${spelled(a)}`),
  ];
  const has = (certificate.subjectAltName ?? '').split(', ');
  const sameNames = has.toSorted().join() === wanted.toSorted().join();
  return fresh && sameNames && certificate.verify(signer.publicKey)
    ? { key, chain, notAfterMs }
    : undefined;
}

/** An address as Node spells it in a certificate: IPv6 in full words, upper case. */
function spelled(address: string): string {
  if (!address.includes(':')) return address;
  const [left = '', right] = address.split('::');
  const words = (part: string | undefined) => (part ? part.split(':') : []);
  const [head, tail] = [words(left), words(right)];
  const zeros = right === undefined ? [] : Array<string>(8 - head.length - tail.length).fill('0');
  return [...head, ...zeros, ...tail]
    .map((w) => Number.parseInt(w, 16).toString(16).toUpperCase())
    .join(':');
}

async function makeServerCertificate(
  signerPem: string,
  signerKey: webcrypto.CryptoKey,
  own: OwnNames,
  nowMs: number,
  authorityEndsMs: number,
): Promise<ServerCertificate> {
  const keys = await newKeys();
  const signer = new x509.X509Certificate(signerPem);
  const { notBefore, notAfter } = lifeOf(nowMs, SERVER_DAYS);
  const notAfterMs = Math.min(notAfter.getTime(), authorityEndsMs);
  const certificate = await x509.X509CertificateGenerator.create({
    notBefore: new Date(Math.max(notBefore.getTime(), signer.notBefore.getTime())),
    notAfter: new Date(notAfterMs),
    serialNumber: newSerial(),
    subject: nameOf('Ladlework server'),
    issuer: signer.subjectName,
    publicKey: keys.publicKey,
    signingKey: signerKey,
    signingAlgorithm: SIGNED_BY,
    extensions: [
      new x509.BasicConstraintsExtension(false, undefined, true),
      new x509.KeyUsagesExtension(x509.KeyUsageFlags.digitalSignature, true),
      new x509.ExtendedKeyUsageExtension([x509.ExtendedKeyUsage.serverAuth]),
      new x509.SubjectAlternativeNameExtension([
        ...own.names.map((value) => ({ type: 'dns' as const, value })),
        ...own.addresses.map((value) => ({ type: 'ip' as const, value })),
      ]),
      await keyName(keys.publicKey),
      await x509.AuthorityKeyIdentifierExtension.create(await signer.publicKey.export()),
    ],
  });
  return {
    key: await pemOfKey(keys.privateKey),
    chain: `${certificate.toString('pem')}\n${signerPem}`,
    notAfterMs,
  };
}

const newKeys = () => webcrypto.subtle.generateKey(KEYS, true, ['sign', 'verify']);

const keyName = (key: webcrypto.CryptoKey) => x509.SubjectKeyIdentifierExtension.create(key);

const nameOf = (commonName: string) =>
  new x509.Name([{ O: ['Ladlework'] }, { CN: [commonName] }]).toString();

function lifeOf(nowMs: number, days: number): { notBefore: Date; notAfter: Date } {
  return {
    notBefore: new Date(nowMs - BACKDATED_DAYS * DAY_MS),
    notAfter: new Date(nowMs + days * DAY_MS),
  };
}

/** Positive and not to be guessed. @source RFC 5280, 4.1.2.2: at most 20 octets */
function newSerial(): string {
  const bytes = webcrypto.getRandomValues(new Uint8Array(16));
  bytes[0] = ((bytes[0] ?? 0) & 0x3f) | 0x40;
  return Buffer.from(bytes).toString('hex');
}

async function pemOfKey(key: webcrypto.CryptoKey): Promise<string> {
  const der = await webcrypto.subtle.exportKey('pkcs8', key);
  return `${x509.PemConverter.encode(der, 'PRIVATE KEY')}\n`;
}

async function keyFromPem(pem: string): Promise<webcrypto.CryptoKey> {
  const [der] = x509.PemConverter.decode(pem);
  if (der === undefined) throw new Error('the signer’s key is not PEM');
  return webcrypto.subtle.importKey('pkcs8', der, KEYS, true, ['sign']);
}
