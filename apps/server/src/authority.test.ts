/** Held against Node's own reading of certificates, its TLS, and openssl where there is one. */
import 'reflect-metadata';
import { execFileSync, spawnSync } from 'node:child_process';
import { createHash, webcrypto, X509Certificate } from 'node:crypto';
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connect, createServer, type TLSSocket } from 'node:tls';
import * as x509 from '@peculiar/x509';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Authority, openAuthority } from './authority.ts';
import type { OwnNames } from './private-names.ts';

const NOW = Date.UTC(2026, 10, 25, 6);
const DAY_MS = 86_400_000;
const OWN: OwnNames = {
  names: ['brewhouse.local', 'localhost'],
  addresses: ['127.0.0.1', '192.168.1.2', '::1', 'fd00::2'],
};

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'ladlework-authority-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

async function opened(nowMs = NOW): Promise<Authority> {
  const outcome = await openAuthority(join(folder, 'authority'), nowMs);
  if (!outcome.ok) throw new Error(outcome.message);
  return outcome.authority;
}

const kept = (name: string) => join(folder, 'authority', name);

describe('the authority', () => {
  it('is an authority of two steps that signs servers only', async () => {
    await opened();
    const root = new X509Certificate(readFileSync(kept('root.pem')));
    const signer = new X509Certificate(readFileSync(kept('signer.pem')));
    expect(root.ca && signer.ca).toBe(true);
    expect(root.checkIssued(root) && signer.checkIssued(root)).toBe(true);
    expect(root.verify(root.publicKey) && signer.verify(root.publicKey)).toBe(true);
    // id-kp-serverAuth. @source RFC 5280, 4.2.1.12
    expect(signer.keyUsage).toEqual(['1.3.6.1.5.5.7.3.1']);
    expect((Date.parse(root.validTo) - NOW) / DAY_MS).toBe(3650);
  });

  it('keeps no key of the root, and every key its owner’s to read only', async () => {
    const authority = await opened();
    await authority.serverCertificate(OWN, NOW);
    const files = readdirSync(join(folder, 'authority')).sort();
    expect(files).toEqual(['root.pem', 'server.key', 'server.pem', 'signer.key', 'signer.pem']);
    expect(statSync(join(folder, 'authority')).mode & 0o777).toBe(0o700);
    for (const file of files) expect(statSync(kept(file)).mode & 0o077).toBe(0);
    const root = new X509Certificate(authority.rootPem);
    for (const key of ['server.key', 'signer.key']) {
      expect(readFileSync(kept(key), 'utf8')).toContain('PRIVATE KEY');
      const { createPrivateKey } = await import('node:crypto');
      expect(root.checkPrivateKey(createPrivateKey(readFileSync(kept(key))))).toBe(false);
    }
  });

  it('has the fingerprint that devices show: SHA-256 of the certificate', async () => {
    const authority = await opened();
    const digest = createHash('sha256').update(authority.rootDer).digest('hex').toUpperCase();
    expect(authority.fingerprint.replaceAll(' ', '')).toBe(digest);
    const asNodeSays = new X509Certificate(authority.rootDer).fingerprint256.replaceAll(':', '');
    expect(asNodeSays).toBe(digest);
  });

  it('stays the same over a restart, and is refused when damaged instead of made anew', async () => {
    const first = await opened();
    expect((await opened(NOW + 400 * DAY_MS)).fingerprint).toBe(first.fingerprint);
    writeFileSync(kept('signer.key'), 'not a key');
    const outcome = await openAuthority(join(folder, 'authority'), NOW);
    expect(outcome).toMatchObject({ ok: false });
    expect(!outcome.ok && outcome.message).toMatch(/every device must then trust anew/);
  });

  it('is finished when its making was cut short', async () => {
    await opened();
    rmSync(kept('root.pem'));
    await (await opened()).serverCertificate(OWN, NOW);
    const signer = new X509Certificate(readFileSync(kept('signer.pem')));
    expect(signer.checkIssued(new X509Certificate(readFileSync(kept('root.pem'))))).toBe(true);
  });

  it('is not made by a clock that was never set', async () => {
    const outcome = await openAuthority(join(folder, 'authority'), Date.UTC(1970, 0, 2));
    expect(!outcome.ok && outcome.message).toMatch(/clock says 1970-01-02/);
  });
});

describe('the certificate of the server', () => {
  const leafOf = (chain: string) => new X509Certificate(chain);

  it('is made out to every name and address, for half a year', async () => {
    const made = await (await opened()).serverCertificate(OWN, NOW);
    const leaf = leafOf(made.chain);
    for (const name of OWN.names) expect(leaf.checkHost(name)).toBe(name);
    for (const address of OWN.addresses) expect(leaf.checkIP(address)).toBe(address);
    expect(leaf.checkHost('example.com')).toBeUndefined();
    expect(leaf.checkIP('192.168.1.3')).toBeUndefined();
    const days = (Date.parse(leaf.validTo) - Date.parse(leaf.validFrom)) / DAY_MS;
    expect(days).toBe(187);
    // The longest an added root's server certificate may last on some tablets (from memory).
    expect(days).toBeLessThanOrEqual(825);
    expect(leaf.ca).toBe(false);
  });

  it('is kept while it fits, and renewed for a new address, near its end, and by a clock set back', async () => {
    const authority = await opened();
    const first = await authority.serverCertificate(OWN, NOW);
    const again = (own: OwnNames, nowMs: number) => authority.serverCertificate(own, nowMs);
    expect(await again(OWN, NOW + DAY_MS)).toEqual(first);
    expect((await again(OWN, NOW + 119 * DAY_MS)).chain).toBe(first.chain);
    const renewed = await again(OWN, NOW + 121 * DAY_MS);
    expect(renewed.chain).not.toBe(first.chain);
    const back = await again(OWN, NOW + 30 * DAY_MS);
    expect(back.chain).not.toBe(renewed.chain);
    const moved = await again({ ...OWN, addresses: ['10.0.0.9'] }, NOW + 30 * DAY_MS);
    expect(leafOf(moved.chain).checkIP('10.0.0.9')).toBe('10.0.0.9');
  });

  it('is believed by a client that trusts the root, and by no other', async () => {
    const authority = await opened(Date.now());
    const made = await authority.serverCertificate(OWN, Date.now());
    const ask = (ca: string | undefined, servername: string) =>
      handshake(made.key, made.chain, ca, servername);
    expect(await ask(authority.rootPem, 'localhost')).toBe('trusted');
    expect(await ask(authority.rootPem, 'brewhouse.local')).toBe('trusted');
    expect(await ask(undefined, 'localhost')).toMatch(/SELF_SIGNED|UNABLE_TO/);
    expect(await ask(authority.rootPem, 'other.local')).toBe('ERR_TLS_CERT_ALTNAME_INVALID');
  });
});

describe('the constraints', () => {
  /** What a thief of the signer's key could make. */
  async function forged(names: x509.JsonGeneralNames, nowMs = Date.now()) {
    const authority = await opened(nowMs);
    const [der] = x509.PemConverter.decode(readFileSync(kept('signer.key'), 'utf8'));
    const ecdsa = { name: 'ECDSA', namedCurve: 'P-256' };
    const key = await webcrypto.subtle.importKey('pkcs8', der as ArrayBuffer, ecdsa, false, [
      'sign',
    ]);
    const keys = await webcrypto.subtle.generateKey(ecdsa, true, ['sign', 'verify']);
    const signerPem = readFileSync(kept('signer.pem'), 'utf8');
    const leaf = await x509.X509CertificateGenerator.create({
      notBefore: new Date(nowMs - DAY_MS),
      notAfter: new Date(nowMs + DAY_MS),
      subject: 'CN=Thief',
      issuer: new x509.X509Certificate(signerPem).subjectName,
      publicKey: keys.publicKey,
      signingKey: key,
      signingAlgorithm: { name: 'ECDSA', hash: 'SHA-256' },
      extensions: [new x509.SubjectAlternativeNameExtension(names)],
    });
    const pkcs8 = await webcrypto.subtle.exportKey('pkcs8', keys.privateKey);
    return {
      rootPem: authority.rootPem,
      signerPem,
      leafPem: leaf.toString('pem'),
      keyPem: x509.PemConverter.encode(pkcs8, 'PRIVATE KEY'),
    };
  }

  const verdict = async (name: x509.JsonGeneralNames[number], servername: string) => {
    const f = await forged([name]);
    return handshake(f.keyPem, `${f.leafPem}\n${f.signerPem}`, f.rootPem, servername);
  };

  // RFC 5280, 4.2.1.10 and 6.1.3 (b): a name outside the permitted subtrees fails the path.
  it.each([
    ['example.com', 'example.com'],
    ['beer', 'beer'],
    ['notlocal', 'notlocal'],
    ['evil.local.example', 'evil.local.example'],
  ])('a certificate for %s is not believed, though its signature is right', async (value, name) => {
    expect(await verdict({ type: 'dns', value }, name)).toBe('permitted subtree violation');
  });

  it.each(['8.8.8.8', '172.32.0.1', '192.169.0.1', '2001:db8::1', 'fe00::1'])(
    'nor one for the public address %s',
    async (value) => {
      expect(await verdict({ type: 'ip', value }, value)).toBe('permitted subtree violation');
    },
  );

  it('one for a private name is: it is the constraint that decides', async () => {
    expect(await verdict({ type: 'dns', value: 'pot.local' }, 'pot.local')).toBe('trusted');
    expect(await verdict({ type: 'ip', value: '172.31.255.254' }, '172.31.255.254')).toBe(
      'trusted',
    );
    expect(await verdict({ type: 'ip', value: 'fd12::1' }, 'fd12::1')).toBe('trusted');
  });

  it('openssl reads the same chain and the same constraints', async () => {
    const found = spawnSync('openssl', ['version']);
    if (found.error !== undefined) {
      // Node above is built on the same library; this is the second reader where there is one.
      console.log('openssl is not installed here: the chain was checked with Node only.');
      expect(found.error).toMatchObject({ code: 'ENOENT' });
      return;
    }
    const authority = await opened(Date.now());
    await authority.serverCertificate(OWN, Date.now());
    const verify = (file: string, ...more: string[]) =>
      spawnSync(
        'openssl',
        ['verify', '-CAfile', kept('root.pem'), '-untrusted', kept('signer.pem'), ...more, file],
        { encoding: 'utf8' },
      );
    const good = verify(kept('server.pem'), '-purpose', 'sslserver', '-x509_strict');
    expect(good.stdout + good.stderr).toMatch(/: OK/);
    expect(verify(kept('server.pem'), '-purpose', 'sslclient').status).not.toBe(0);
    const { leafPem } = await forged([{ type: 'dns', value: 'example.com' }]);
    writeFileSync(kept('thief.pem'), leafPem);
    expect(verify(kept('thief.pem')).stderr).toMatch(/permitted subtree violation/);
    const text = execFileSync('openssl', ['x509', '-in', kept('root.pem'), '-noout', '-text'], {
      encoding: 'utf8',
    });
    expect(text).toMatch(/Name Constraints: critical\s+Permitted:/);
    expect(text).toContain('DNS:local');
    expect(text).toContain('IP:192.168.0.0/255.255.0.0');
    expect(text).toContain('CA:TRUE, pathlen:1');
  });
});

/** Opens a TLS line to a server with this certificate, as a client that trusts `ca`. */
async function handshake(
  key: string,
  cert: string,
  ca: string | undefined,
  servername: string,
): Promise<string> {
  const server = createServer({ key, cert }).listen(0, '127.0.0.1');
  server.on('tlsClientError', () => undefined);
  await new Promise((resolve) => server.once('listening', resolve));
  const { port } = server.address() as AddressInfo;
  const verdict = await new Promise<string>((resolve) => {
    const isAddress = /^[\d.]+$|:/.test(servername);
    const socket: TLSSocket = connect({
      port,
      host: '127.0.0.1',
      ...(ca !== undefined && { ca }),
      ...(!isAddress && { servername }),
      ...(isAddress && {
        checkServerIdentity: (_, certificate) =>
          new X509Certificate(certificate.raw).checkIP(servername) === undefined
            ? new Error('other address')
            : undefined,
      }),
    });
    socket.once('secureConnect', () => resolve('trusted'));
    socket.once('error', (error: NodeJS.ErrnoException) =>
      resolve(error.code === 'UNSPECIFIED' ? error.message : (error.code ?? error.message)),
    );
    socket.once('close', () => resolve('closed'));
    socket.once('secureConnect', () => socket.destroy());
  });
  server.close();
  return verdict;
}
