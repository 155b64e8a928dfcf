import type { Context } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { problem } from './problem.ts';

/** A batch of 500 readings is 200 kB; a plan with its document 30 kB. */
const MOST_BYTES = 2 * 1024 * 1024;

/** Refuses larger bodies, by their announced length and while they come in. */
export const limited = bodyLimit({
  maxSize: MOST_BYTES,
  onError: (c) => {
    // What is still coming is not read: the line cannot be used again.
    c.header('Connection', 'close');
    const message = `The body is larger than ${MOST_BYTES / 1024 / 1024} MB. Send less at once.`;
    return problem(c, 413, 'too-large', message);
  },
});

/**
 * The JSON of a request.
 *
 * @returns the value, or the answer that refuses it
 */
export async function readJson(c: Context): Promise<{ json: unknown } | { refusal: Response }> {
  const type = c.req.header('content-type') ?? '';
  if (!/^application\/json\s*(;|$)/i.test(type)) {
    const message = 'Send the body as application/json.';
    return { refusal: problem(c, 415, 'not-json', message) };
  }
  const text = await c.req.text();
  try {
    return { json: JSON.parse(text) };
  } catch (thrown) {
    if (!(thrown instanceof SyntaxError)) throw thrown;
    return { refusal: problem(c, 400, 'not-json', 'The body is not JSON. Check what was sent.') };
  }
}
