/** Which instance refers to which: what is missing, and what refers to itself through others or is nested too deep, so that nothing that follows references runs without end. */

import type { StepLimits } from './step.js';

/** Deeper than this no building is nested: placements, clippings and mapped items stay within some tens. */
const DEEPEST = 400;

/** Numbers that grow as they come. */
class Numbers {
  list: Int32Array;
  length = 0;
  constructor(expected: number) {
    this.list = new Int32Array(expected);
  }
  push(value: number): void {
    if (this.length === this.list.length) {
      const larger = new Int32Array(this.list.length * 2);
      larger.set(this.list);
      this.list = larger;
    }
    this.list[this.length++] = value;
  }
}

/** Where an instance number stands in the lists; -1 where it does not. */
interface Index {
  at(id: number): number;
  put(id: number, place: number): void;
}

class Dense implements Index {
  private readonly places: Int32Array;
  constructor(private readonly most: number) {
    this.places = new Int32Array(most + 1).fill(-1);
  }
  at(id: number): number {
    return id > this.most ? -1 : this.places[id]!;
  }
  put(id: number, place: number): void {
    this.places[id] = place;
  }
}

class Sparse implements Index {
  private readonly places = new Map<number, number>();
  at(id: number): number {
    return this.places.get(id) ?? -1;
  }
  put(id: number, place: number): void {
    this.places.set(id, place);
  }
}

/** An instance in the text: from the first letter of its entity to its semicolon. */
export interface Piece {
  readonly id: number;
  readonly from: number;
  readonly to: number;
}

interface SolvedReferences {
  readonly instances: number;
  readonly twice: readonly number[];
  readonly missing: readonly number[];
  /** Place of an instance among all of them; -1 where it is missing. */
  readonly placeOf: (id: number) => number;
  /** By the place: whether it lies on a circle, or too deep. */
  readonly isCircular: (place: number) => boolean;
  /** By the place: where its entity begins in the text. */
  readonly beginOf: (place: number) => number;
  /** By the place: place of its entity in the schema; -1 where it has none. */
  readonly entityOf: (place: number) => number;
  /** Where instances and all that they refer to, themselves or through others, stand, in the order of the text. */
  readonly piecesOf: (ids: readonly number[]) => readonly Piece[];
  /** Numbers of the instances of these entities, ascending. */
  readonly ofEntities: (entities: readonly number[]) => readonly number[];
}

/** Numbers of instances by their entities: those of the entity at place e stand from `begins[e]` up to `begins[e + 1]`. */
interface Lists {
  readonly ids: Int32Array;
  readonly begins: Int32Array;
}

const LISTED = 10_000;
/** What an instance takes in most models; where it takes less, the lists grow. */
const BYTES_OF_ONE = 50;
const MOST_EXPECTED = 1 << 16;

export class References {
  private readonly ids: Numbers;
  /** Where the entity of each instance begins, and its semicolon. */
  private readonly begins: Numbers;
  private readonly ends: Numbers;
  private readonly entities: Numbers;
  /** Where the references of each instance begin in `targets`. */
  private readonly starts: Numbers;
  private readonly targets: Numbers;

  /** `size`: of the text, bytes. */
  constructor(
    private readonly limits: StepLimits,
    size: number,
  ) {
    const expected = Math.min(Math.ceil(size / BYTES_OF_ONE), MOST_EXPECTED) + 16;
    this.ids = new Numbers(expected);
    this.begins = new Numbers(expected);
    this.ends = new Numbers(expected);
    this.entities = new Numbers(expected);
    this.starts = new Numbers(expected);
    this.targets = new Numbers(3 * expected);
  }

  get full(): boolean {
    return this.ids.length > this.limits.instances || this.targets.length > this.limits.references;
  }

  /** Opens an instance whose entity begins at the place `at` of the text. */
  begin(id: number, at: number): void {
    this.ids.push(id);
    this.begins.push(at);
    this.starts.push(this.targets.length);
  }
  to(id: number): void {
    this.targets.push(id);
  }
  /** Closes the instance, whose entity stands at this place in the schema and whose semicolon stands at the place `at` of the text. */
  is(entity: number, at: number): void {
    this.entities.push(entity);
    this.ends.push(at);
  }
  /** Takes back the last instance, which was not closed. */
  drop(): void {
    this.ids.length--;
    this.begins.length--;
    this.starts.length--;
    this.targets.length = this.starts.list[this.starts.length]!;
  }

  solved(): SolvedReferences {
    const count = this.ids.length;
    const ids = this.ids.list;
    let most = 0;
    for (let i = 0; i < count; i++) most = Math.max(most, ids[i]!);
    const place = most <= 8 * count + 100_000 ? new Dense(most) : new Sparse();
    const twice = new Set<number>();
    for (let i = 0; i < count; i++) {
      if (place.at(ids[i]!) >= 0) twice.add(ids[i]!);
      place.put(ids[i]!, i);
    }
    const missing = new Set<number>();
    const edges = new Int32Array(this.targets.length);
    for (let i = 0; i < this.targets.length; i++) {
      const to = place.at(this.targets.list[i]!);
      edges[i] = to;
      if (to < 0) missing.add(this.targets.list[i]!);
    }
    this.starts.push(this.targets.length);
    const unsound = this.unsound(count, edges);
    return {
      instances: count,
      twice: [...twice].sort((a, b) => a - b),
      missing: [...missing].sort((a, b) => a - b).slice(0, LISTED),
      placeOf: (id) => place.at(id),
      isCircular: (at) => unsound[at] === 1,
      beginOf: (at) => this.begins.list[at]!,
      entityOf: (at) => this.entities.list[at]!,
      piecesOf: (ids) => this.pieces(ids, place, edges, unsound),
      ofEntities: this.byEntity(place),
    };
  }

  private pieces(ids: readonly number[], place: Index, edges: Int32Array, unsound: Uint8Array): readonly Piece[] {
    const open = ids.map((id) => place.at(id)).filter((at) => at >= 0);
    const seen = new Set(open);
    for (let at = open.pop(); at !== undefined; at = open.pop()) {
      for (let edge = this.starts.list[at]!; edge < this.starts.list[at + 1]!; edge++) {
        const to = edges[edge]!;
        if (to < 0 || unsound[to] === 1 || seen.has(to)) continue;
        seen.add(to);
        open.push(to);
      }
    }
    return [...seen]
      .sort((a, b) => a - b)
      .map((at) => ({ id: this.ids.list[at]!, from: this.begins.list[at]!, to: this.ends.list[at]! }));
  }

  /** Of instances with one number the last one counts. The lists are made when the first is asked for. */
  private byEntity(place: Index): SolvedReferences['ofEntities'] {
    let lists: Lists | null = null;
    return (entities) => {
      lists ??= this.lists(place);
      const { ids, begins } = lists;
      const found: number[] = [];
      for (const entity of entities) {
        if (entity + 1 >= begins.length) continue;
        for (let i = begins[entity]!; i < begins[entity + 1]!; i++) found.push(ids[i]!);
      }
      return ascending(found);
    };
  }

  /** Sorted by entity, by counting; those of no entity of the schema are left out. */
  private lists(place: Index): Lists {
    const [given, entities, count] = [this.ids.list, this.entities.list, this.ids.length];
    const isListed = (at: number): boolean => entities[at]! >= 0 && place.at(given[at]!) === at;
    let most = -1;
    for (let at = 0; at < count; at++) most = Math.max(most, entities[at]!);
    const begins = new Int32Array(most + 2);
    for (let at = 0; at < count; at++) if (isListed(at)) begins[entities[at]!]!++;
    for (let entity = 1; entity < begins.length; entity++) begins[entity]! += begins[entity - 1]!;
    const ids = new Int32Array(begins[most + 1]!);
    // So far the numbers say where lists end: each is filled from its end.
    for (let at = count - 1; at >= 0; at--) if (isListed(at)) ids[--begins[entities[at]!]!] = given[at]!;
    return { ids, begins };
  }

  /**
   * Marks what lies on a circle, and cuts chains that are nested too deep; what merely leads there stays sound. Circles are the strongly connected parts of
   * the graph. Source: R. Tarjan, Depth-first search and linear graph algorithms, 1972; the walk has a stack of its own.
   */
  private unsound(count: number, edges: Int32Array): Uint8Array {
    const starts = this.starts.list;
    const marked = new Uint8Array(count);
    /** Order of the visit from 1 on; 0 not seen. */
    const order = new Int32Array(count);
    const low = new Int32Array(count);
    const inPart = new Uint8Array(count);
    const depth = new Int32Array(count);
    const next = new Int32Array(count);
    const way: number[] = [];
    const part: number[] = [];
    let visited = 0;
    for (let root = 0; root < count; root++) {
      if (order[root] !== 0) continue;
      let entered = root;
      for (;;) {
        if (entered >= 0) {
          order[entered] = low[entered] = ++visited;
          next[entered] = starts[entered]!;
          inPart[entered] = 1;
          way.push(entered);
          part.push(entered);
          entered = -1;
        }
        const at = way[way.length - 1]!;
        if (next[at]! < starts[at + 1]!) {
          const to = edges[next[at]!]!;
          next[at]!++;
          if (to < 0) continue;
          if (order[to] === 0) entered = to;
          else {
            if (inPart[to] === 1) low[at] = Math.min(low[at]!, order[to]!);
            if (to === at) marked[at] = 1;
            depth[at] = Math.max(depth[at]!, depth[to]! + 1);
          }
          continue;
        }
        way.pop();
        if (low[at] === order[at]) closePart(at, part, inPart, marked);
        if (depth[at]! > DEEPEST) {
          marked[at] = 1;
          depth[at] = 0;
        }
        if (way.length === 0) break;
        const parent = way[way.length - 1]!;
        low[parent] = Math.min(low[parent]!, low[at]!);
        depth[parent] = Math.max(depth[parent]!, depth[at]! + 1);
      }
    }
    return marked;
  }
}

/** Sorted; nearly always it is already. */
const ascending = (numbers: number[]): readonly number[] => {
  for (let i = 1; i < numbers.length; i++) {
    if (numbers[i - 1]! > numbers[i]!) return numbers.sort((a, b) => a - b);
  }
  return numbers;
};

/** Takes a strongly connected part off the stack; more than one instance is a circle. */
const closePart = (root: number, part: number[], inPart: Uint8Array, marked: Uint8Array): void => {
  const alone = part[part.length - 1] === root;
  for (;;) {
    const at = part.pop()!;
    inPart[at] = 0;
    if (!alone) marked[at] = 1;
    if (at === root) return;
  }
};
