import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { deviceName, role } from '../data/access.ts';
import { askDevices, type Devices, renewCodes, revokeDevice } from '../data/api.ts';
import { deviceClock, nowMs } from '../data/clock.ts';
import { clockText } from '../data/device-clock.ts';
import { waiting } from '../data/house.ts';
import { abilities, footingText } from '../shell/footing.ts';
import { footing, installOffer } from '../shell/offline.ts';
import { clockOf } from '../units/show.ts';
import { Trouble } from './trouble.tsx';

/** How this device stands, which others are let in, and how more are. */
export function DevicesPage() {
  const f = footing.value;
  return (
    <>
      <header class="head">
        <div>
          <h1>Devices</h1>
          <p>
            This one: {footingText(f)}
            {deviceName.value !== undefined && `, listed as “${deviceName.value}”`},{' '}
            {WHO[role.value]}
          </p>
        </div>
      </header>
      <Trouble />
      {!f.secure && <TrustNote />}
      <section>
        <h2 class="vh">This device</h2>
        <ul class="abilities">
          {abilities(f).map((a) => (
            <li key={a.what}>
              <b class={a.works === false ? 'no' : 'yes'}>
                {a.works === undefined ? '–' : a.works ? 'yes' : 'no'}
              </b>
              <div>
                <h3>{a.what}</h3>
                <p class="soft">{a.say}</p>
              </div>
            </li>
          ))}
          <ClockItem />
        </ul>
        <Install />
      </section>
      {role.value === 'brewer' && <Others />}
    </>
  );
}

const WHO = {
  brewer: 'a brewer’s: it may do everything.',
  helper: 'a helper’s: it logs readings and taps of the day.',
  viewer: 'a viewer’s: it reads.',
} as const;

function TrustNote() {
  const count = waiting.value.size;
  return (
    <div class="wrong trustnote">
      <b>This page came by plain http.</b>{' '}
      {count > 0
        ? `Let the server have the ${count} waiting ${count === 1 ? 'entry' : 'entries'} first: at the new address this device begins with an empty outbox.`
        : 'Trusting the brewhouse takes a few minutes, once.'}
      <p class="row">
        <a class="btn" href="/trust">
          Trust this brewhouse
        </a>
      </p>
    </div>
  );
}

function ClockItem() {
  const clock = deviceClock.value;
  const wrong = clockText(clock);
  const known =
    clock.errorMs === undefined
      ? 'No server has been asked since this page was opened.'
      : `Known to ${Math.max(1, Math.ceil(clock.errorMs))} ms.`;
  return (
    <li>
      <b class={wrong === undefined ? 'yes' : 'no'}>{wrong === undefined ? 'yes' : 'no'}</b>
      <div>
        <h3>The clock is right</h3>
        <p class="soft">
          {wrong === undefined
            ? `${known} Brewhouse time is ${clockOf(clock.look.dateMs + clock.offsetMs)}.`
            : `${wrong.slice(0, 1).toUpperCase()}${wrong.slice(1)}. ${known} Each entry keeps by how much it was mended.`}
        </p>
      </div>
    </li>
  );
}

function Install() {
  const offer = installOffer.value;
  if (offer === undefined || footing.value.installed) return null;
  return (
    <p class="row block">
      <button type="button" class="btn solid" onClick={() => void offer.prompt()}>
        Install on this device
      </button>
    </p>
  );
}

/** Devices that are let in, and codes for more. */
function Others() {
  const list = useSignal<Devices | undefined>(undefined);
  const wrong = useSignal<string | undefined>(undefined);
  const load = async () => {
    const answer = await askDevices();
    if (answer.ok) list.value = answer.value;
    wrong.value = answer.ok ? undefined : answer.error.message;
  };
  const change = async (run: () => ReturnType<typeof renewCodes>) => {
    const answer = await run();
    if (answer.ok) await load();
    else wrong.value = answer.error.message;
  };
  useEffect(() => void load(), []);
  const found = list.value;
  return (
    <section class="block">
      <h2>Devices let in</h2>
      {wrong.value !== undefined && (
        <p class="wrong" role="alert">
          <b>The list could not be had:</b> {wrong.value}
        </p>
      )}
      {found?.codes.length === 0 && (
        <p class="soft">
          The server serves this computer only. To let tablets and phones come, end it and start it
          with <code>HOST=0.0.0.0 npm start</code>.
        </p>
      )}
      {found !== undefined && found.devices.length > 0 && (
        <ul class="shelf let-in">
          {found.devices.map((d) => (
            <li key={d.id}>
              <div>
                <b>{d.name}</b>
                <span class="soft">
                  {d.role}, {d.secure ? 'by https' : 'by plain http'}, last here{' '}
                  {seenText(d.lastSeenMs)}
                  {d.here && ', this device'}
                </span>
              </div>
              <ShutOut name={d.name} onFirm={() => void change(() => revokeDevice(d.id))} />
            </li>
          ))}
        </ul>
      )}
      {found !== undefined && found.codes.length > 0 && (
        <Codes found={found} renew={() => void change(renewCodes)} />
      )}
    </section>
  );
}

/** Asked once more, in another place than the first tap. */
function ShutOut({ name, onFirm }: { name: string; onFirm: () => void }) {
  const sure = useSignal(false);
  if (!sure.value) {
    return (
      <button
        type="button"
        class="btn"
        onClick={() => (sure.value = true)}
        aria-label={`Shut out ${name}`}
      >
        Shut out
      </button>
    );
  }
  return (
    <div class="row sure">
      <button type="button" class="btn" onClick={() => (sure.value = false)}>
        Keep
      </button>
      <button type="button" class="btn solid" onClick={onFirm} aria-label={`Yes, shut out ${name}`}>
        Yes, shut out
      </button>
    </div>
  );
}

function Codes({ found, renew }: { found: Devices; renew: () => void }) {
  return (
    <>
      <h2 class="more">Let one more in</h2>
      <ol class="codes">
        {found.trust !== undefined && (
          <li>
            <Qr of={found.trust.qr} label={`QR code of ${found.trust.url}`} />
            <h3>First: trust</h3>
            <p>{found.trust.url}</p>
            <p class="soft">
              Fingerprint <code>{found.trust.fingerprint}</code>
            </p>
          </li>
        )}
        {found.codes.map((c) => (
          <li key={c.role}>
            <Qr of={c.qr} label={`QR code that pairs a ${c.role}’s device`} />
            <h3>Pair a {c.role}’s device</h3>
            <p class="code">
              {c.code.slice(0, 5)} {c.code.slice(5)}
            </p>
            <p class="soft">{MAY[c.role]}</p>
          </li>
        ))}
      </ol>
      <p class="row">
        <button type="button" class="btn" onClick={renew}>
          New codes
        </button>
        <span class="soft">The old ones end; devices that are in stay in.</span>
      </p>
    </>
  );
}

const MAY = {
  brewer: 'Everything, this list too.',
  helper: 'Readings and taps of the day.',
  viewer: 'Reading only: for the wall, for guests.',
} as const;

function Qr({ of, label }: { of: { size: number; path: string }; label: string }) {
  return (
    <svg class="qr" viewBox={`0 0 ${of.size} ${of.size}`} role="img" aria-label={label}>
      <path d={of.path} />
    </svg>
  );
}

function seenText(ms: number): string {
  const ago = nowMs() - ms;
  if (ago < 120_000) return 'just now';
  const date = new Intl.DateTimeFormat(undefined, { day: 'numeric', month: 'short' }).format(ms);
  return `${ago > 18 * 3_600_000 ? `${date}, ` : ''}${clockOf(ms)}`;
}
