/** Errors as a client sees them: a code and a sentence, never a trace. */
import type { FieldError } from '@ladlework/contract';
import type { Context } from 'hono';
import type { ContentfulStatusCode } from 'hono/utils/http-status';

export function problem(
  c: Context,
  status: ContentfulStatusCode,
  code: string,
  message: string,
  errors?: readonly FieldError[],
): Response {
  return c.json({ error: { code, message, ...(errors && { errors }) } }, status);
}
