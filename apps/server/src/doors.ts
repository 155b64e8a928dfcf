/** One port for both: the first byte of a line says whether it speaks TLS. */
import { createServer, type Server as NetServer, type Socket } from 'node:net';

/** First byte of a TLS handshake record. @source RFC 8446, 5.1 */
const TLS_HANDSHAKE = 0x16;
/** A line that says nothing is closed [ms]. */
const SILENCE_MS = 10_000;

/** What takes over a line, as Node's servers do. */
export interface Taker {
  emit(event: 'connection', socket: Socket): boolean;
}

/**
 * A server that hands each line to one of two.
 *
 * @param plain speaks http
 * @param secure speaks https
 */
export function twoDoors(plain: Taker, secure: Taker): NetServer {
  return createServer((socket) => {
    const drop = () => socket.destroy();
    // Until somebody has taken it over, a line that breaks concerns nobody.
    socket.on('error', drop);
    socket.setTimeout(SILENCE_MS, drop);
    socket.once('readable', () => {
      const first: Buffer | null = socket.read(1);
      if (first === null) return drop();
      socket.setTimeout(0);
      socket.off('timeout', drop);
      socket.unshift(first);
      (first[0] === TLS_HANDSHAKE ? secure : plain).emit('connection', socket);
      socket.off('error', drop);
    });
  });
}
