/** Numbers points as they come; points that coincide have one number. An open table, at most half full. */
export class PointIndex {
  private slots = new Int32Array(64).fill(-1);
  /** Three coordinates for each number. */
  private readonly kept: number[] = [];
  private readonly numbers = new Float64Array(3);
  private readonly bits = new Int32Array(this.numbers.buffer);

  /** Number of the point; where it is new, that is how many there were before. */
  of(x: number, y: number, z: number): number {
    const { slots, kept } = this;
    for (let slot = this.hash(x, y, z); ; slot++) {
      slot &= slots.length - 1;
      const at = slots[slot]!;
      if (at < 0) {
        const count = kept.length / 3;
        slots[slot] = count;
        kept.push(x, y, z);
        if (2 * count >= slots.length) this.grow();
        return count;
      }
      if (kept[3 * at] === x && kept[3 * at + 1] === y && kept[3 * at + 2] === z) return at;
    }
  }

  private grow(): void {
    const { kept } = this;
    const slots = new Int32Array(2 * this.slots.length).fill(-1);
    for (let at = 0; 3 * at < kept.length; at++) {
      let slot = this.hash(kept[3 * at]!, kept[3 * at + 1]!, kept[3 * at + 2]!) & (slots.length - 1);
      while (slots[slot]! >= 0) slot = (slot + 1) & (slots.length - 1);
      slots[slot] = at;
    }
    this.slots = slots;
  }

  /** Of the bits of the numbers; the multiplier is odd and otherwise arbitrary. */
  private hash(x: number, y: number, z: number): number {
    const { numbers, bits } = this;
    // 0 and -0 are one.
    numbers[0] = x + 0;
    numbers[1] = y + 0;
    numbers[2] = z + 0;
    let hash = 0;
    for (let i = 0; i < bits.length; i++) hash = Math.imul(hash ^ (hash >>> 15) ^ bits[i]!, 0x85ebca6b);
    return (hash ^ (hash >>> 13)) >>> 0;
  }
}
