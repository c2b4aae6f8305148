/** Binary heap: the least item first by the given comparison. Not stable; the comparison must decide every tie that matters. */
export class Heap<T> {
  readonly #items: T[] = [];
  readonly #compare: (a: T, b: T) => number;

  constructor(compare: (a: T, b: T) => number) {
    this.#compare = compare;
  }

  push(item: T): void {
    const items = this.#items;
    items.push(item);
    let i = items.length - 1;
    while (i > 0) {
      const parent = (i - 1) >> 1;
      if (this.#compare(items[i]!, items[parent]!) >= 0) break;
      [items[i], items[parent]] = [items[parent]!, items[i]!];
      i = parent;
    }
  }

  pop(): T | undefined {
    const items = this.#items;
    const top = items[0];
    const last = items.pop();
    if (items.length > 0 && last !== undefined) {
      items[0] = last;
      this.#sink(0);
    }
    return top;
  }

  #sink(start: number): void {
    const items = this.#items;
    let i = start;
    for (;;) {
      const left = 2 * i + 1;
      let least = i;
      if (left < items.length && this.#compare(items[left]!, items[least]!) < 0) least = left;
      if (left + 1 < items.length && this.#compare(items[left + 1]!, items[least]!) < 0) least = left + 1;
      if (least === i) return;
      [items[i], items[least]] = [items[least]!, items[i]!];
      i = least;
    }
  }
}
