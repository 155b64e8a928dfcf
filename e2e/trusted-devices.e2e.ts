/**
 * Devices of a brewhouse network. The server asks even its own machine to be paired, and is opened by
 * a name that no browser takes for local: so one machine plays a network. The browser is told which
 * key to believe instead of having the root installed; that a client which trusts the root believes
 * the chain, and no other does, is tested in apps/server/src/authority.test.ts.
 */
import { createHash, X509Certificate } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { accessibilityFaults } from './axe.ts';
import { launchBrowser } from './browser.ts';
import { keepFaults } from './journey.ts';
import { sticksOut } from './look.ts';
import { type Device, keepPicture, openDevice, SIZES, type Size } from './page.ts';
import { type PairedRole, pairBy } from './pairing.ts';
import { startTestServer, type TestServer } from './server.ts';

let server: TestServer;
let browser: Browser;
let plain: string;
let secure: string;
let tablet: Device;
let phone: Device;

beforeAll(async () => {
  server = await startTestServer({ PAIR: 'all' });
  const { port } = new URL(server.url);
  const name = `${hostname().toLowerCase().split('.')[0]}.local`;
  plain = `http://${name}:${port}`;
  secure = `https://${name}:${port}`;
  const signer = new X509Certificate(
    readFileSync(join(server.dataFolder, 'authority', 'signer.pem')),
  );
  const key = signer.publicKey.export({ type: 'spki', format: 'der' });
  browser = await launchBrowser([
    `--host-resolver-rules=MAP ${name} 127.0.0.1`,
    `--ignore-certificate-errors-spki-list=${createHash('sha256').update(key).digest('base64')}`,
  ]);
  tablet = await openDevice(browser, 'tablet-wide');
  phone = await openDevice(browser, 'phone');
});

afterAll(async () => {
  await browser?.close();
  await server?.stop();
});

const pair = (page: Page, at: string, role: PairedRole, name: string) =>
  pairBy(page, server, at, role, name);

const lookedAt = async (page: Page, name: string) => {
  for (const size of Object.keys(SIZES) as Size[]) {
    await page.setViewportSize(SIZES[size]);
    await keepPicture(page, `${name}-${size}`);
    expect(await sticksOut(page)).toEqual([]);
  }
  expect(await accessibilityFaults(page)).toEqual([]);
};

describe('a device nobody knows', () => {
  it('is told by plain http where to begin, and sees nothing else', async () => {
    const device = await openDevice(browser, 'tablet');
    const { page } = device;
    keepFaults('stranger', page);
    await page.goto(plain);
    await page.getByRole('heading', { name: 'This device is not paired' }).waitFor();
    await lookedAt(page, 'door-welcome');
    for (const path of ['/api/events', '/api/kits', '/assets/index.js', '/sw.js']) {
      expect((await fetch(server.url + path)).status).toBe(401);
    }
    await page.getByRole('link', { name: 'Trust this brewhouse' }).click();
    await page.getByRole('heading', { name: '1. Fetch the certificate' }).waitFor();
    expect(await page.getByRole('link', { name: `${secure}` }).count()).toBe(1);
    await lookedAt(page, 'door-trust');
    await page.goto(`${plain}/pair`);
    await lookedAt(page, 'door-pair');
    await page.getByRole('textbox', { name: 'Code' }).fill('wrong');
    await page.getByRole('button', { name: 'Pair' }).click();
    await page.getByRole('alert').getByText('That is not a code of today').waitFor();
    await device.close();
  });
});

describe('a tablet that trusts the brewhouse', () => {
  it('is paired as a brewer’s, and its page is kept and may be installed', async () => {
    const { page } = tablet;
    keepFaults('brewer-pairs', page);
    await pair(page, secure, 'brewer', 'Tablet at the kettle');
    expect(await page.evaluate(() => isSecureContext)).toBe(true);
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    await page.getByRole('link', { name: /^secure/ }).click();
    await page.getByRole('heading', { name: 'Devices', level: 1 }).waitFor();
    await page.getByRole('listitem').filter({ hasText: 'The whole page is kept here' }).waitFor();
    await page.getByText('Tablet at the kettle', { exact: true }).waitFor();
    const manifest = await page.evaluate(async () => {
      const link = document.querySelector<HTMLLinkElement>('link[rel=manifest]');
      return (await fetch(link?.href ?? '')).json();
    });
    for (const { src, sizes } of manifest.icons as { src: string; sizes: string }[]) {
      const head = await page.evaluate(async (path) => {
        const icon = await fetch(path);
        return { status: icon.status, bytes: [...new Uint8Array(await icon.arrayBuffer())] };
      }, src);
      expect(head.status).toBe(200);
      if (sizes === 'any') continue;
      // Width and height in the first chunk of a PNG. Source: RFC 2083, 4.1.1
      const bytes = Buffer.from(head.bytes);
      expect(`${bytes.readUInt32BE(16)}x${bytes.readUInt32BE(20)}`).toBe(sizes);
    }
    expect(manifest.icons.map((i: { purpose?: string }) => i.purpose)).toContain('maskable');
    await lookedAt(page, 'devices-brewer');
    await page.setViewportSize(SIZES['tablet-wide']);
  });

  it('opens again with the server off', async () => {
    const { page } = tablet;
    keepFaults('brewer-offline', page);
    await server.kill();
    tablet.forgiveFaults();
    await page.reload();
    await page
      .getByRole('status')
      .getByText(/^no network since/)
      .waitFor();
    await page.getByRole('link', { name: 'Kit', exact: true }).click();
    await page
      .getByRole('heading', { name: 'Hollin Weir' })
      .or(page.getByText('Hollin Weir'))
      .first()
      .waitFor();
    await server.restart();
    await page.getByRole('status').getByText('everything is on the server').waitFor();
    tablet.forgiveFaults();
  });
});

describe('a helper’s phone by plain http', () => {
  it('logs, and is told what it goes without', async () => {
    const { page } = phone;
    keepFaults('helper-plain', page);
    await pair(page, plain, 'helper', 'Tobias’ phone');
    expect(await page.evaluate(() => isSecureContext)).toBe(false);
    await page.getByRole('link', { name: /^helper · plain http: .* missing$/ }).click();
    const missing = page.getByRole('listitem').filter({ hasText: /^no/ });
    await missing.first().waitFor();
    const names = await missing.getByRole('heading').allTextContents();
    expect(names).toEqual([
      'Nobody listens in',
      'The page opens with the server off',
      'The screen stays on while a brew runs',
      'Installed',
    ]);
    // Who is let in is the brewer's to see.
    expect(await page.getByText('Devices let in').count()).toBe(0);
    await lookedAt(page, 'devices-helper-plain');
    await page.setViewportSize(SIZES.phone);
  });

  it('takes part in the day: its reading reaches the brewer’s tablet', async () => {
    const [brewer, helper] = [tablet.page, phone.page];
    keepFaults('helper-reads', brewer, helper);
    await brewer.goto(`${secure}/#/brews/new`);
    await brewer.getByRole('combobox', { name: 'Beer' }).selectOption('Weir Gold');
    await brewer.getByRole('button', { name: 'Plan it' }).click();
    await brewer.getByText('This kit can do it.').waitFor();
    await brewer.getByRole('button', { name: 'Start the day' }).click();
    const hash = new URL(brewer.url()).hash;
    await helper.goto(`${plain}/${hash.replace('/plan', '/day')}`);
    await helper.getByRole('textbox', { name: 'Note' }).fill('Drain is shut');
    await helper.getByRole('button', { name: 'Write down' }).click();
    await brewer.getByRole('listitem').filter({ hasText: 'Drain is shut' }).waitFor();
    const log = await helper.evaluate(async () => (await fetch('/api/events?after=0')).json());
    const note = log.events.find(
      (e: { event: { type: string } }) => e.event.type === 'note',
    )?.event;
    // Ids come from getRandomValues, which needs no trusted address; the clock says how it stood.
    expect(note.id).toMatch(/^[0-9a-f]{32}$/);
    expect(Math.abs(note.clock.offsetMs)).toBeLessThan(5000);
    expect(note.clock.errorMs).toBeGreaterThanOrEqual(0);
  });

  it('calls the brewer, whose tablet rings until somebody comes', async () => {
    const [brewer, helper] = [tablet.page, phone.page];
    keepFaults('helper-calls', brewer, helper);
    await helper.getByRole('button', { name: 'Call the brewer' }).click();
    const ringing = brewer.getByRole('alertdialog', { name: /^H calls/ });
    await ringing.waitFor();
    await helper.getByText(/Called \d\d:\d\d; waiting for an answer\./).waitFor();
    await keepPicture(brewer, 'call-brewer');
    await keepPicture(helper, 'call-helper');
    expect(await accessibilityFaults(helper)).toEqual([]);
    await ringing.getByRole('button', { name: 'Coming' }).click();
    await ringing.waitFor({ state: 'detached' });
    await helper.getByText(/^B is coming, since/).waitFor();
  });

  it('cannot save a kit: the page says so, and the server would not take it', async () => {
    const { page } = phone;
    keepFaults('helper-kit', page);
    await page.goto(`${plain}/#/kit/three-barrels`);
    await page.getByRole('textbox', { name: 'Name of the kit', exact: true }).fill('Mine');
    await page.getByRole('button', { name: 'Save kit' }).click();
    await page.getByText(/paired as a helper\. Only a brewer’s device may save a kit/).waitFor();
    const status = await page.evaluate(async () => {
      const kits = await (await fetch('/api/kits')).json();
      const kit = kits.kits[0].item;
      const event = {
        id: '0123456789abcdef0123456789abcdef',
        stream: `kit:${kit.id}`,
        type: 'kit-saved',
        readAtMs: 1,
        enteredAtMs: 1,
        who: 'H',
        device: 'made-up',
        counter: 1,
        data: { kit },
      };
      const answer = await fetch('/api/events', {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ events: [event] }),
      });
      return (await answer.json()).results[0];
    });
    expect(status).toMatchObject({ ok: false, code: 'not-your-role' });
  });

  it('is shut out by the brewer, at once, and keeps what it has', async () => {
    const [brewer, helper] = [tablet.page, phone.page];
    keepFaults('shut-out', brewer, helper);
    await helper.goto(`${plain}/#/today`);
    await brewer.goto(`${secure}/#/devices`);
    await brewer.getByRole('button', { name: 'Shut out Tobias’ phone' }).click();
    await brewer.getByRole('button', { name: 'Yes, shut out Tobias’ phone' }).click();
    await brewer.getByText('Tobias’ phone').waitFor({ state: 'detached' });
    await helper
      .getByRole('status')
      .getByText(/^not paired with this brewhouse/)
      .waitFor();
    phone.forgiveFaults();
    expect(tablet.faults()).toEqual([]);
  });
});
