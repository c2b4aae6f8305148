/**
 * From a composed sheet to the bytes of a drawing, for the layout and for the trace alike: into the architect's drawing or onto a blank sheet, read back
 * by the second reader.
 */

import { type Finding, finding, type Refusable } from '../../ground/findings.js';
import { APPLICATION_ID, nameOf, serializeTags, structureOf, type TagDocument } from '../../ground/tags.js';
import { type LengthUnit, MM_PER } from '../../ground/units.js';
import { BLANK_VERSION, blankSheet } from './blank.js';
import { type Bounds, EMPTY, isEmpty, union } from './bounds.js';
import type { Composed, Surroundings } from './compose.js';
import { drawingExtents } from './extents.js';
import { type LayerNames, layerNames } from './layers.js';
import { additionsDocument, readBack } from './secondReader.js';
import { layersUsed } from './sheet.js';
import { DASH_MM, type Spliced, splice } from './splice.js';

export interface WriteDxfOptions {
  readonly mode: 'merged' | 'overlay';
  /** Default layer name, or its last part ('S-FORM-PANL', 'PANL') → name. */
  readonly layerNames?: Readonly<Record<string, string>>;
  /** Whether sheets in paper space show the layout; default true. */
  readonly sheets?: boolean;
}

/** What is to be drawn, into what. */
export interface DrawingTask {
  /** The architect's drawing; null where there is none. */
  readonly document: TagDocument | null;
  readonly options: WriteDxfOptions;
  /** Unit of the drawing's numbers. */
  readonly unit: LengthUnit;
  /** Whether lengths are told in feet and inches. */
  readonly isInches: boolean;
  /** Composes the sheet for a version of DXF; `takenBlocks`: names (upper case) that blocks of ours must not have. */
  readonly compose: (version: string, takenBlocks: ReadonlySet<string>, drawing: Surroundings) => Composed;
}

const scaled = (b: Bounds, k: number): Bounds =>
  isEmpty(b) ? EMPTY : { minX: b.minX * k, minY: b.minY * k, maxX: b.maxX * k, maxY: b.maxY * k };

interface Ground {
  readonly mode: 'merged' | 'overlay';
  /** Bounds of the architect's drawing and of its texts, drawing units. */
  readonly bounds: Bounds;
  readonly texts: readonly Bounds[];
  readonly findings: readonly Finding[];
}

/** Which mode can be done, and what ground the drawing takes. */
const groundOf = (document: TagDocument | null, wanted: 'merged' | 'overlay'): Ground => {
  if (!document) {
    const findings =
      wanted === 'overlay'
        ? []
        : [
            finding('write.no-drawing', 'There is no DXF drawing to put the layout into.', {
              assumed: 'written as overlay',
            }),
          ];
    return { mode: 'overlay', bounds: EMPTY, texts: [], findings };
  }
  const { bounds, farPoints, texts } = drawingExtents(document);
  const far = finding(
    'write.far-geometry',
    `${farPoints} points of the drawing lie further away than any drawing reaches; they were not heeded in placing what stands beside it.`,
  );
  return { mode: wanted, bounds, texts, findings: farPoints > 0 ? [far] : [] };
};

interface Made {
  readonly spliced: Spliced;
  /** What the second reader reads. */
  readonly checked: TagDocument;
}

const intoBlank = (task: DrawingTask, composed: Composed, layers: LayerNames, extents: Bounds): Made => {
  const { unit } = task;
  const perMm = 1 / MM_PER[unit];
  const blank = blankSheet({
    unit,
    layers,
    used: layersUsed(composed.sheet),
    lineType: { name: `${APPLICATION_ID}-DASH`, elements: DASH_MM.map((mm) => mm * perMm) },
    extents,
  });
  const spliced = splice(blank, composed.sheet, {
    perMm,
    layers,
    extents,
    isInches: task.isInches,
  });
  return { spliced, checked: spliced.document };
};

const intoDrawing = (document: TagDocument, composed: Composed, options: Parameters<typeof splice>[2]): Made => {
  const spliced = splice(document, composed.sheet, options);
  return { spliced, checked: additionsDocument(document, spliced.blocks, spliced.entities) };
};

const layersBefore = (spliced: Spliced, layers: LayerNames): Finding[] =>
  spliced.layersBefore.map((key) =>
    finding('write.layer-exists', `The drawing has a layer ${layers[key]} of its own; the layout is drawn on it.`, {
      subject: layers[key],
      assumed: 'its colour, line type and plot weight stay',
    }),
  );

/** Names (upper case) of the blocks that a drawing has or that something in it asks for: a dimension whose block is missing must not find ours. */
const blockNames = (document: TagDocument | null): Set<string> => {
  if (!document) return new Set();
  const { blocks, entities } = structureOf(document);
  const names = new Set(blocks.map((b) => b.name.toUpperCase()));
  for (const record of [...entities, ...blocks.flatMap((b) => b.entities)]) {
    if (record.type === 'INSERT' || record.type === 'DIMENSION' || record.type === 'ACAD_TABLE') {
      names.add(nameOf(document, record)?.toUpperCase() ?? '');
    }
  }
  return names;
};

/** Draws what was composed. A difference that the second reader finds refuses the file. */
export const finish = (task: DrawingTask): Refusable<Uint8Array> => {
  const { document, options, isInches } = task;
  const ground = groundOf(document, options.mode);
  const merged = ground.mode === 'merged' ? document : null;
  const version = merged?.version ?? BLANK_VERSION;
  const unitMm = MM_PER[task.unit];
  const { names: layers, findings: layerFindings } = layerNames(version, options.layerNames ?? {});
  const composed = task.compose(version, blockNames(merged), {
    bounds: scaled(ground.bounds, unitMm),
    texts: ground.texts.map((b) => scaled(b, unitMm)),
  });
  const ours = scaled(composed.bounds, 1 / unitMm);
  const extents = merged ? union(ground.bounds, ours) : ours;
  const { spliced, checked } = merged
    ? intoDrawing(merged, composed, { perMm: 1 / unitMm, layers, extents, isInches })
    : intoBlank(task, composed, layers, extents);
  const findings = [...ground.findings, ...layerFindings, ...composed.findings];
  if (merged) findings.push(...layersBefore(spliced, layers));
  if (!spliced.papers) {
    const why = 'The drawing has no model and paper space that layouts could belong to; no sheets were put into it.';
    findings.push(finding('write.no-sheets', why, { subject: 'output.sheets' }));
  }
  const { papers } = spliced;
  const meant = { sheet: composed.sheet, layers, perMm: 1 / unitMm, version, ...(papers ? { papers } : {}) };
  const difference = readBack(checked, meant);
  if (difference !== null) {
    const why = `What a second reader finds in the drawing is not what was meant: ${difference}.`;
    return { ok: false, findings: [...findings, finding('write.second-reader', why)] };
  }
  return { ok: true, value: serializeTags(spliced.document), findings };
};
