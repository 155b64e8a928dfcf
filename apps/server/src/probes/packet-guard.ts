/**
 * Lets MQTT packets through and ends a line that announces one too long: a packet is put together
 * in memory before anybody asks who sent it, and may say that it is 256 MB.
 */
import { Transform, type TransformCallback } from 'node:stream';

/** A message and its topic. */
const MOST_PACKET = 96 * 1024;
/** MQTT 3.1.1 section 2.2.3: remaining length in one to four bytes, seven bits each. */
const MOST_LENGTH_BYTES = 4;

export class PacketGuard extends Transform {
  /** Bytes of the packet's body still to come; undefined while its head is read. */
  #body: number | undefined;
  #inHead = false;
  #length = 0;
  #lengthBytes = 0;

  override _transform(chunk: Buffer, _encoding: string, done: TransformCallback): void {
    let at = 0;
    while (at < chunk.length) {
      if (this.#body !== undefined && this.#body > 0) {
        const taken = Math.min(this.#body, chunk.length - at);
        this.#body -= taken;
        at += taken;
        continue;
      }
      if (!this.#inHead) {
        // First byte: kind and flags.
        this.#inHead = true;
        this.#body = undefined;
        this.#length = 0;
        this.#lengthBytes = 0;
        at += 1;
        continue;
      }
      const byte = chunk[at] ?? 0;
      at += 1;
      this.#length += (byte & 0x7f) * 128 ** this.#lengthBytes;
      this.#lengthBytes += 1;
      const more = (byte & 0x80) !== 0;
      if (this.#length > MOST_PACKET || (more && this.#lengthBytes >= MOST_LENGTH_BYTES)) {
        done(new Error(`a packet longer than ${MOST_PACKET} bytes was announced`));
        return;
      }
      if (!more) {
        this.#inHead = false;
        this.#body = this.#length;
      }
    }
    done(null, chunk);
  }
}
