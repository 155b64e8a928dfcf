/** A long low tone that carries under a pump, and the phone's buzz. Needs one earlier touch. */
let context: AudioContext | undefined;

/** Browsers give sound only after a touch; any touch on the page unlocks it. */
function unlock(): void {
  context ??= new AudioContext();
  if (context.state === 'suspended') void context.resume();
}
addEventListener('pointerdown', unlock, { passive: true });
addEventListener('keydown', unlock, { passive: true });

/** One call: 1.4 s at 220 Hz with its octave below the pump's hiss, and three buzzes. */
export function sound(): void {
  if ('vibrate' in navigator) navigator.vibrate([400, 150, 400, 150, 400]);
  if (context?.state !== 'running') return;
  const start = context.currentTime;
  const gain = context.createGain();
  gain.gain.setValueAtTime(0, start);
  gain.gain.linearRampToValueAtTime(0.9, start + 0.05);
  gain.gain.setValueAtTime(0.9, start + 1.2);
  gain.gain.linearRampToValueAtTime(0, start + 1.4);
  gain.connect(context.destination);
  for (const hertz of [220, 440]) {
    const tone = context.createOscillator();
    tone.type = 'triangle';
    tone.frequency.value = hertz;
    tone.connect(gain);
    tone.start(start);
    tone.stop(start + 1.4);
  }
}

/** Whether a tone can be heard now; without it the alarm flashes and buzzes only. */
export const canSound = (): boolean => context?.state === 'running';
