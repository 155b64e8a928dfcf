/** Names by which one event speaks about another where it has no field of its own for that. */

/** Code of the `gate-confirmed` event that says: this reading is true, far out as it lies. */
export function readingGate(eventId: string): string {
  return `reading.${eventId}`;
}

/** Move id under which the doing of a repair is logged; `eventId` is its `miss-mended` event. */
export function mendMoveId(eventId: string): string {
  return `mend.${eventId}`;
}

/** Code of the gate by which the brewer says whose value of two counts. */
export function choiceGate(eventId: string): string {
  return `counts.${eventId}`;
}

/** The event a choice is for; undefined for another gate. */
export function chosenBy(code: string): string | undefined {
  return code.startsWith('counts.') ? code.slice('counts.'.length) : undefined;
}

/** Gates asked on the day: codes of `gate-confirmed` events. */
export const GATES = {
  falseBottom: 'false-bottom',
  spargeSalts: 'sparge-salts',
  tankSanitised: 'tank-sanitised',
  /** On paper only: read side by side before the day. */
  thermometers: 'thermometers-agree',
} as const;

/** Code of the gate: the outlet of a vessel is shut. */
export const valveGate = (vessel: string): string => `valve.${vessel}`;

const GATE_TEXT: Readonly<Record<string, string>> = {
  [GATES.falseBottom]: 'False bottom in, drain shut',
  [GATES.spargeSalts]: 'Salts in the sparge liquor',
  [GATES.tankSanitised]: 'Tank sanitised, drained, outlet shut',
  [GATES.thermometers]: 'Thermometers agree',
};

/** A gate as the record says it; undefined for the codes of readings and choices. */
export function gateWords(code: string): string | undefined {
  return gateVessel(code) === undefined ? GATE_TEXT[code] : 'Outlet shut';
}

/** The vessel whose outlet a gate is about; undefined for the others. */
export function gateVessel(code: string): string | undefined {
  return code.startsWith('valve.') ? code.slice('valve.'.length) : undefined;
}

/** What is logged under a move id although no mash plan has it: the rest of the brew day. */
const WORK: Readonly<Record<string, string>> = {
  'sparge-in': 'Sparge liquor in',
  'heat-sparge': 'Heat the sparge liquor',
  park: 'Park the sparge liquor',
  'park-strike': 'Park the strike liquor',
  sparge: 'Sparge',
  'to-lauter': 'Mash over to the lauter tun',
  'lauter-rest': 'Lauter rest',
  'run-off': 'Run off',
  'sparge-shut': 'Sparge shut',
  'grain-out': 'Grain out',
  'heat-wort': 'Bring the wort to the boil',
  'boil-wort': 'Boil the wort',
  hops: 'Hops',
  stand: 'Whirlpool and stand',
  sanitise: 'Rinse and sanitise the tank',
  'knock-out': 'Knock out',
  pitch: 'Oxygen and pitch',
  clean: 'Clean',
  rinse: 'Rinse',
  tidy: 'Floor, log, close the day',
};

/**
 * Trade words for work that was logged beside the mash.
 *
 * @param moveId as logged: one of the names above, or one with a vessel or a number behind it
 * @returns undefined for a move of another kind
 */
export function workText(moveId: string): string | undefined {
  const known = Object.keys(WORK).filter((id) => moveId === id || moveId.startsWith(`${id}-`));
  const longest = known.reduce((a, b) => (b.length > a.length ? b : a), '');
  return WORK[longest];
}

/** Code of the gate by which somebody answers a call for the brewer. */
export function callGate(eventId: string): string {
  return `called.${eventId}`;
}
