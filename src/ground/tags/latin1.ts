/** Bytes as text with one char per byte, and back. */

const CHUNK = 0x2000;

export const latin1 = (bytes: Uint8Array): string => {
  let text = '';
  for (let at = 0; at < bytes.length; at += CHUNK) {
    text += String.fromCharCode.apply(null, bytes.subarray(at, at + CHUNK) as unknown as number[]);
  }
  return text;
};

/** A growing run of bytes. */
export class ByteSink {
  private bytes = new Uint8Array(1 << 16);
  private view = new DataView(this.bytes.buffer);
  private at = 0;

  private room(n: number): number {
    const start = this.at;
    if (start + n > this.bytes.length) {
      const grown = new Uint8Array(Math.max(this.bytes.length * 2, start + n));
      grown.set(this.bytes);
      this.bytes = grown;
      this.view = new DataView(grown.buffer);
    }
    this.at = start + n;
    return start;
  }

  /** One byte per char; a char above 255 was not encoded for the file, which is our own bug. */
  text(text: string): void {
    const start = this.room(text.length);
    for (let i = 0; i < text.length; i++) {
      const unit = text.charCodeAt(i);
      if (unit > 255) throw new Error(`text was not encoded for the file: ${text.slice(0, 40)}`);
      this.bytes[start + i] = unit;
    }
  }

  byte(n: number): void {
    const at = this.room(1);
    this.bytes[at] = n;
  }

  uint16(n: number): void {
    const at = this.room(2);
    this.view.setUint16(at, n, true);
  }

  int16(n: number): void {
    const at = this.room(2);
    this.view.setInt16(at, n, true);
  }

  int32(n: number): void {
    const at = this.room(4);
    this.view.setInt32(at, n, true);
  }

  int64(n: bigint): void {
    const at = this.room(8);
    this.view.setBigInt64(at, n, true);
  }

  double(n: number): void {
    const at = this.room(8);
    this.view.setFloat64(at, n, true);
  }

  done(): Uint8Array {
    return this.bytes.slice(0, this.at);
  }
}
