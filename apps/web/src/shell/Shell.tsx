import type { ComponentChildren } from 'preact';
import { paired, role } from '../data/access.ts';
import { deviceClock } from '../data/clock.ts';
import { clockText } from '../data/device-clock.ts';
import { refusals, storage, waiting } from '../data/house.ts';
import { network } from '../data/sync.ts';
import { clockOf } from '../units/show.ts';
import { footingText, missing } from './footing.ts';
import { networkText, shutOutText } from './network.ts';
import { footing, newer, takeNewer } from './offline.ts';
import { hashOf, headingOf, type Route } from './route.ts';
import { pairName } from './settings.ts';
import { theme, turnTheme } from './theme.ts';

const TABS = [
  { name: 'Today', route: { at: 'today' } },
  { name: 'Beers', route: { at: 'beers' } },
  { name: 'Kit', route: { at: 'kits' } },
  { name: 'Brews', route: { at: 'brews' } },
] as const;

/** Headings, units, light and dark, and what the page knows of its server. */
export function Shell({ route, children }: { route: Route; children: ComponentChildren }) {
  const heading = headingOf(route);
  return (
    <div class="frame">
      <button type="button" class="skip btn" onClick={focusMain}>
        To the page
      </button>
      <header class="top">
        <a class="wordmark" href="#/today">
          <svg viewBox="0 0 32 32" aria-hidden="true">
            <path d="M7 3v14" fill="none" stroke="currentColor" stroke-width="3.4" />
            <path d="M5.3 16.5h21.4a10.7 10.7 0 0 1-21.4 0z" fill="currentColor" />
          </svg>
          Ladlework
        </a>
        <nav class="tabs" aria-label="Headings">
          {TABS.map((tab) => (
            <a
              key={tab.name}
              href={hashOf(tab.route)}
              aria-current={heading === tab.name ? 'page' : undefined}
            >
              {tab.name}
            </a>
          ))}
        </nav>
        <Switches />
        <div class="standing">
          <NetworkLine />
          <FootingLine />
        </div>
      </header>
      <main class="main" id="main" tabIndex={-1}>
        <StorageLine />
        <NewerLine />
        {children}
      </main>
    </div>
  );
}

// A link to #main would be taken for a page address.
const focusMain = () => document.getElementById('main')?.focus();

/** Units and light, one tap each. */
export function Switches() {
  return (
    <div class="switches">
      <button
        type="button"
        onClick={() => (pairName.value = pairName.value === 'us' ? 'metric' : 'us')}
        aria-label={
          pairName.value === 'us'
            ? '°F · gal · lb: US units. Change to metric'
            : '°C · L · kg: metric units. Change to US'
        }
      >
        {pairName.value === 'us' ? '°F · gal · lb' : '°C · L · kg'}
      </button>
      <button
        type="button"
        onClick={turnTheme}
        aria-label={theme.value === 'light' ? 'Change to dark' : 'Change to light'}
      >
        <svg width="18" height="18" viewBox="0 0 18 18" aria-hidden="true">
          <circle cx="9" cy="9" r="7.5" fill="none" stroke="currentColor" stroke-width="2" />
          <path d="M9 1.5a7.5 7.5 0 0 1 0 15z" fill="currentColor" />
        </svg>
        {theme.value === 'light' ? 'dark' : 'light'}
      </button>
    </div>
  );
}

/** Where the entries are, on the server or kept here, and whether the clock is to be believed. */
export function NetworkLine() {
  const net = network.value;
  const count = waiting.value.size;
  const calm = net.state === 'here' && count === 0;
  const clock = clockText(deviceClock.value);
  return (
    <div class={net.state === 'gone' ? 'network off' : 'network on'} role="status">
      <i aria-hidden="true" />
      {paired.value ? (
        <span>{networkText(net, count, clockOf)}</span>
      ) : (
        <span>
          {shutOutText(count)}. <a href="/pair">Pair</a>
        </span>
      )}
      {clock !== undefined && <span class="clockline">{clock}</span>}
      {calm && refusals.value.length > 0 && <a href="#/today">{refusals.value.length} refused</a>}
    </div>
  );
}

/** How this device stands: the way it came by, and what it may do. */
function FootingLine() {
  const f = footing.value;
  const without = missing(f);
  const as = role.value === 'brewer' ? '' : `${role.value} · `;
  return (
    <a class="footing" href={hashOf({ at: 'devices' })}>
      {as}
      {footingText(f)}
      {without > 0 && <span class="soft"> · {without} missing</span>}
    </a>
  );
}

/** A newer version waits for the brewer; nothing changes under busy hands. */
function NewerLine() {
  if (!newer.value) return null;
  return (
    <div class="note row newer" role="status">
      <span>A newer version of this page is ready. What is typed and kept here stays.</span>
      <button type="button" class="btn" onClick={takeNewer}>
        Take it now
      </button>
    </div>
  );
}

function StorageLine() {
  const kept = storage.value;
  if (kept.state !== 'broken') return null;
  return (
    <div class="wrong" role="alert">
      <b>This device keeps nothing.</b> {kept.why}. Leave private browsing, free some space, or use
      another device before the brew begins.
    </div>
  );
}
