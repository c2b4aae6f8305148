/** Signs of openings in a drawing: blocks, linework and door swings whose names or shapes say door, window or opening. mm, the drawing's axes. */

import type { Vec } from '../ground/plane.js';
import type { Drawing, DrawingPath, FoundOpening } from '../ground/vocabulary.js';
import { hiddenLayers, nameWords } from './layers.js';

export type OpeningKind = FoundOpening['kind'];

export interface OpeningSign {
  readonly kind: OpeningKind;
  /** Points that the sign covers. */
  readonly points: readonly Vec[];
  readonly source: string;
  /** What it is, for people: "block DOOR-900", "lines on layer A-GLAZ". */
  readonly what: string;
  /** A placed block counts wherever it lies on a wall; linework of a layer only inside the wall. */
  readonly from: 'block' | 'lines';
}

const set = (list: string): ReadonlySet<string> => new Set(list.split(' '));

/** Common words, no source; DOOR, GLAZ and WNDW are majors and minors of the US National CAD Standard. */
const DOOR = set(
  'door doors dr drs ohd tür türen tuer tueren tor tore porte portes puerta puertas porta portas deur deuren dörr dør drzwi дверь двери dveře vrata 门 ドア',
);
const WINDOW = set(
  'window windows win wdw wndw wnd glaz glazing fenster fenêtre fenêtres fenetre fenetres ventana ventanas finestra finestre janela janelas raam ramen kozijn vindu fönster okno окно окна okna 窗',
);
const OPENING = set(
  'opening openings opng aussparung aussparungen durchbruch öffnung oeffnung ouverture ouvertures hueco huecos vano vani abertura aberturas sparing проем проём',
);
/** Hosts of words that look alike but say something else: door schedules, window tags. */
const NOT_ITSELF = set('tag tags mark marks text anno schedule number numbers note notes dims symb symbol legend');

/** What a block's or layer's name says of openings; null: nothing. */
export const openingKind = (name: string): OpeningKind | null => {
  const words = nameWords(name);
  if (words.some((w) => NOT_ITSELF.has(w))) return null;
  const has = (list: ReadonlySet<string>) => words.some((w) => list.has(w));
  if (has(DOOR) !== has(WINDOW)) return has(DOOR) ? 'door' : 'window';
  if (has(DOOR)) return 'opening';
  return has(OPENING) ? 'opening' : null;
};

/** Content points of every placed block, by the insert's source: those of paths in it, at any depth. */
const contentOf = (paths: readonly DrawingPath[], wanted: ReadonlySet<string>): Map<string, Vec[]> => {
  const out = new Map<string, Vec[]>();
  for (const path of paths) {
    for (let at = path.source.indexOf('/'); at >= 0; at = path.source.indexOf('/', at + 1)) {
      const key = path.source.slice(0, at);
      if (!wanted.has(key)) continue;
      const list = out.get(key) ?? [];
      for (const v of path.vertices) list.push(v);
      out.set(key, list);
    }
  }
  return out;
};

/** Signs among the visible things of a drawing, sorted by source. `mmPer`: mm per drawing unit. */
export const openingSigns = (drawing: Drawing, visible: readonly DrawingPath[], mmPer: number): OpeningSign[] => {
  const inMm = (points: readonly Vec[]) => points.map((p) => ({ x: p.x * mmPer, y: p.y * mmPer }));
  const hidden = hiddenLayers(drawing);
  const blocks = drawing.inserts.flatMap((i) => {
    const kind = hidden.has(i.layer) ? null : (openingKind(i.block) ?? openingKind(i.layer));
    return kind === null ? [] : [{ insert: i, kind }];
  });
  const content = contentOf(visible, new Set(blocks.map((b) => b.insert.source)));
  const signs: OpeningSign[] = blocks.map(({ insert, kind }) => ({
    kind,
    points: inMm([insert.at, ...(content.get(insert.source) ?? [])]),
    source: insert.source,
    what: `block ${insert.block}`,
    from: 'block',
  }));
  const inside = (source: string) => blocks.some((b) => source.startsWith(`${b.insert.source}/`));
  for (const path of visible) {
    const kind = openingKind(path.layer);
    if (kind === null || inside(path.source)) continue;
    signs.push({
      kind,
      points: inMm(path.vertices),
      source: path.source,
      what: `lines on layer ${path.layer}`,
      from: 'lines',
    });
  }
  return signs.sort((p, q) => (p.source < q.source ? -1 : p.source > q.source ? 1 : 0));
};
