/**
 * Lines → edges and chains. An edge is the part of a line between places where other lines end on or cross it; a chain is a row of
 * edges joined where exactly two meet. The outline of the concrete runs along chains, so concrete lies on one side of a whole chain.
 */

import { grouping } from '../ground/groups.js';
import type { Vec } from '../ground/plane.js';
import { SAME_POINT_MM } from '../ground/tolerance.js';
import { type LineSet, meetingPoints, pointAt } from './lines.js';

export interface Edge {
  /** Index of the line. */
  readonly line: number;
  readonly a: number;
  readonly b: number;
  readonly nodes: readonly [number, number];
}

export interface ChainLink {
  readonly edge: number;
  /** +1 when the chain runs along the edge's u, -1 against it. */
  readonly sense: 1 | -1;
}

export interface Chain {
  readonly links: readonly ChainLink[];
  readonly closed: boolean;
}

export interface Graph {
  /** Sorted by line, then a. */
  readonly edges: readonly Edge[];
  readonly chains: readonly Chain[];
  /** For each edge its chain and sense. */
  readonly chainOf: readonly { readonly chain: number; readonly sense: 1 | -1 }[];
  /** For each line the range of its edges: [first, one past the last]. */
  readonly edgesOf: readonly (readonly [number, number])[];
  readonly nodes: readonly Vec[];
  /** For each node the edges that end there. */
  readonly edgesAt: readonly (readonly number[])[];
}

/** Numbers points so that those within SAME_POINT_MM of one another (in a square cell's neighbourhood) share a number. */
class NodeBook {
  readonly nodes: Vec[] = [];
  private readonly cells = new Map<string, number[]>();

  number(p: Vec): number {
    const cx = Math.floor(p.x / SAME_POINT_MM);
    const cy = Math.floor(p.y / SAME_POINT_MM);
    for (let i = -1; i <= 1; i++) {
      for (let j = -1; j <= 1; j++) {
        for (const k of this.cells.get(`${cx + i},${cy + j}`) ?? []) {
          const q = this.nodes[k]!;
          if (Math.hypot(q.x - p.x, q.y - p.y) <= SAME_POINT_MM) return k;
        }
      }
    }
    const key = `${cx},${cy}`;
    const list = this.cells.get(key) ?? [];
    list.push(this.nodes.length);
    this.cells.set(key, list);
    this.nodes.push(p);
    return this.nodes.length - 1;
  }
}

const cutEdges = (
  set: LineSet,
  meetings: readonly (readonly number[])[],
  book: NodeBook,
): { edges: Edge[]; edgesOf: [number, number][] } => {
  const edges: Edge[] = [];
  const edgesOf: [number, number][] = [];
  set.lines.forEach((line, index) => {
    const d = set.directions[line.direction]!;
    const cuts = [line.a];
    for (const u of meetings[index]!) {
      if (u - cuts.at(-1)! > SAME_POINT_MM && line.b - u > SAME_POINT_MM) cuts.push(u);
    }
    cuts.push(line.b);
    const first = edges.length;
    for (let i = 0; i + 1 < cuts.length; i++) {
      const a = cuts[i]!;
      const b = cuts[i + 1]!;
      const nodes = [book.number(pointAt(d, a, line.v)), book.number(pointAt(d, b, line.v))] as const;
      edges.push({ line: index, a, b, nodes });
    }
    edgesOf.push([first, edges.length]);
  });
  return { edges, edgesOf };
};

/** Follows a chain from an edge through nodes where exactly two edges meet, until such a node is missing or the start comes round. */
const follow = (
  edges: readonly Edge[],
  at: readonly number[][],
  start: ChainLink,
): { links: ChainLink[]; closed: boolean } => {
  const links = [start];
  const seen = new Set([start.edge]);
  let here = start;
  for (;;) {
    const edge = edges[here.edge]!;
    const node = here.sense === 1 ? edge.nodes[1] : edge.nodes[0];
    const meeting = at[node]!;
    if (meeting.length !== 2) return { links, closed: false };
    const next = meeting[0] === here.edge ? meeting[1]! : meeting[0]!;
    if (next === start.edge) return { links, closed: true };
    if (seen.has(next)) return { links, closed: false };
    here = { edge: next, sense: edges[next]!.nodes[0] === node ? 1 : -1 };
    seen.add(next);
    links.push(here);
  }
};

/** Null when the lines meet more often than tracing works through. */
export const buildGraph = (set: LineSet): Graph | null => {
  const meetings = meetingPoints(set);
  if (meetings === null) return null;
  const book = new NodeBook();
  const { edges, edgesOf } = cutEdges(set, meetings, book);
  const at: number[][] = book.nodes.map(() => []);
  edges.forEach((edge, i) => {
    at[edge.nodes[0]]!.push(i);
    if (edge.nodes[1] !== edge.nodes[0]) at[edge.nodes[1]]!.push(i);
  });
  const chains: Chain[] = [];
  const chainOf: { chain: number; sense: 1 | -1 }[] = [];
  edges.forEach((_, i) => {
    if (chainOf[i]) return;
    const ahead = follow(edges, at, { edge: i, sense: 1 });
    let links = ahead.links;
    if (!ahead.closed) {
      const behind = follow(edges, at, { edge: i, sense: -1 }).links.slice(1);
      links = [
        ...behind.reverse().map((l) => ({ edge: l.edge, sense: l.sense === 1 ? (-1 as const) : (1 as const) })),
        ...links,
      ];
    }
    for (const link of links) chainOf[link.edge] = { chain: chains.length, sense: link.sense };
    chains.push({ links, closed: ahead.closed });
  });
  return { edges, chains, chainOf, edgesOf, nodes: book.nodes, edgesAt: at };
};

/** Twice the signed area of a closed chain: positive when it runs anticlockwise. */
export const signedArea = (graph: Graph, chain: Chain): number => {
  const points = chain.links.map((l) => {
    const nodes = graph.edges[l.edge]!.nodes;
    return graph.nodes[l.sense === 1 ? nodes[0] : nodes[1]]!;
  });
  return points.reduce((sum, p, i) => {
    const q = points[(i + 1) % points.length]!;
    return sum + p.x * q.y - q.x * p.y;
  }, 0);
};

/** The edge of a line that holds u (the first of two that meet there). */
export const edgeAt = (graph: Graph, line: number, u: number): number => {
  const [first, end] = graph.edgesOf[line]!;
  for (let i = first; i < end; i++) if (u <= graph.edges[i]!.b) return i;
  return end - 1;
};

/** Groups lines that touch: for each line the number of its component, in the order of their first lines. */
export const components = (graph: Graph, lineCount: number): number[] => {
  const { connect, lowestOf } = grouping(lineCount);
  for (const list of graph.edgesAt)
    for (const e of list.slice(1)) connect(graph.edges[list[0]!]!.line, graph.edges[e]!.line);
  return Array.from({ length: lineCount }, (_, i) => lowestOf(i));
};
