/** Our layers: names in the form of the US National CAD Standard (discipline-major-minor), colours, plot weights. */

import { type Finding, finding } from '../../ground/findings.js';

/** Layers of the layout. */
type LayoutLayer =
  | 'PANL'
  | 'FILL'
  | 'TIMB'
  | 'CRNR'
  | 'BKHD'
  | 'TIES'
  | 'CLMP'
  | 'ALGN'
  | 'BRCE'
  | 'PLAT'
  | 'GANG'
  | 'POUR'
  | 'DIMS'
  | 'NOTE'
  | 'FLAG'
  | 'FACE'
  | 'SHET'
  | 'VPRT';
/** Layers of the concrete: walls that are formed; of a model also footings and slabs, and for reference what stands around. */
type ConcreteLayer = 'CONC' | 'FTNG' | 'REFR';
/** Layers of the trace, of what was understood: concrete's faces, axes, hatch, labels, levels and steps, openings and pilasters, bars' notes, views. */
type TraceLayer = `TRCE-${'FACE' | 'AXIS' | 'HTCH' | 'LABL' | 'LEVL' | 'OPNG' | 'BARS' | 'VIEW'}`;

export type LayerKey = LayoutLayer | ConcreteLayer | TraceLayer;

export type LineTypeKey = 'CONTINUOUS' | 'DASH';

export interface LayerStyle {
  /** AutoCAD colour index, as the DXF reference numbers them; meaning never rests on it. */
  readonly colour: number;
  /** Plot weight in 1/100 mm: one of the values that group 370 allows. */
  readonly weight: number;
  readonly lineType: LineTypeKey;
  /** It shows on the screen and is not plotted. */
  readonly isUnplotted?: true;
}

/** Forms heavy (0.50), ties 0.35, dimensions and notes 0.25, so that black and white reads too; colours that show on light and on dark ground. *Practice, no source.* */
export const LAYERS: Readonly<Record<LayerKey, LayerStyle>> = {
  PANL: { colour: 150, weight: 50, lineType: 'CONTINUOUS' },
  FILL: { colour: 30, weight: 50, lineType: 'CONTINUOUS' },
  TIMB: { colour: 32, weight: 50, lineType: 'CONTINUOUS' },
  CRNR: { colour: 6, weight: 50, lineType: 'CONTINUOUS' },
  BKHD: { colour: 92, weight: 50, lineType: 'CONTINUOUS' },
  TIES: { colour: 1, weight: 35, lineType: 'CONTINUOUS' },
  CLMP: { colour: 3, weight: 35, lineType: 'CONTINUOUS' },
  ALGN: { colour: 130, weight: 25, lineType: 'CONTINUOUS' },
  BRCE: { colour: 40, weight: 35, lineType: 'CONTINUOUS' },
  PLAT: { colour: 94, weight: 25, lineType: 'DASH' },
  GANG: { colour: 210, weight: 25, lineType: 'CONTINUOUS' },
  POUR: { colour: 142, weight: 70, lineType: 'DASH' },
  DIMS: { colour: 8, weight: 25, lineType: 'CONTINUOUS' },
  NOTE: { colour: 7, weight: 25, lineType: 'CONTINUOUS' },
  FLAG: { colour: 20, weight: 50, lineType: 'CONTINUOUS' },
  FACE: { colour: 7, weight: 35, lineType: 'CONTINUOUS' },
  SHET: { colour: 7, weight: 35, lineType: 'CONTINUOUS' },
  VPRT: { colour: 8, weight: 13, lineType: 'CONTINUOUS', isUnplotted: true },
  CONC: { colour: 7, weight: 35, lineType: 'CONTINUOUS' },
  FTNG: { colour: 34, weight: 25, lineType: 'DASH' },
  REFR: { colour: 8, weight: 18, lineType: 'DASH' },
  'TRCE-FACE': { colour: 92, weight: 50, lineType: 'CONTINUOUS' },
  'TRCE-AXIS': { colour: 6, weight: 25, lineType: 'DASH' },
  'TRCE-HTCH': { colour: 9, weight: 13, lineType: 'CONTINUOUS' },
  'TRCE-LABL': { colour: 30, weight: 25, lineType: 'CONTINUOUS' },
  'TRCE-LEVL': { colour: 140, weight: 35, lineType: 'CONTINUOUS' },
  'TRCE-OPNG': { colour: 200, weight: 35, lineType: 'CONTINUOUS' },
  'TRCE-BARS': { colour: 52, weight: 25, lineType: 'CONTINUOUS' },
  'TRCE-VIEW': { colour: 8, weight: 25, lineType: 'DASH' },
};

export const LAYER_KEYS = Object.keys(LAYERS) as readonly LayerKey[];

export const defaultLayerName = (key: LayerKey): string => `S-FORM-${key}`;

/** Characters that no name in a symbol table may have (DXF reference, 'Symbol table names'), and control characters. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
const NOT_IN_NAMES = /[<>/\\":;?*|=`,\u0000-\u001f]/g;

/** A name as the version allows it: R12 has capitals, digits, $ - _ and at most 31 of them, later ones 255 characters. */
export const symbolName = (version: string, name: string): string => {
  if (version <= 'AC1014') {
    const plain = name.toUpperCase().replace(/[^A-Z0-9$_-]/g, '_');
    return plain.slice(0, 31);
  }
  return name.replace(NOT_IN_NAMES, '_').trim().slice(0, 255);
};

export type LayerNames = Readonly<Record<LayerKey, string>>;

/**
 * Names of our layers: `renamed` has the default name or its last part ('S-FORM-PANL', 'PANL') → name. Findings: a name that the version cannot
 * hold is changed and said, and so is a key that names no layer of ours.
 */
export const layerNames = (
  version: string,
  renamed: Readonly<Record<string, string>>,
): { readonly names: LayerNames; readonly findings: readonly Finding[] } => {
  const findings: Finding[] = [];
  const names = {} as Record<LayerKey, string>;
  const known = new Set<string>();
  for (const key of LAYER_KEYS) {
    const wanted = [defaultLayerName(key), key].find((k) => Object.hasOwn(renamed, k));
    for (const k of [defaultLayerName(key), key]) known.add(k);
    const name = wanted === undefined ? defaultLayerName(key) : renamed[wanted]!;
    const possible = symbolName(version, name) || defaultLayerName(key);
    names[key] = possible;
    if (possible === name) continue;
    findings.push(
      finding('write.layer-name', `A layer cannot be called "${name}" in a drawing of version ${version}.`, {
        subject: defaultLayerName(key),
        assumed: `called ${possible}`,
      }),
    );
  }
  for (const key of Object.keys(renamed).sort()) {
    if (known.has(key)) continue;
    findings.push(
      finding('write.layer-name', `There is no layer "${key}" that could be renamed.`, {
        subject: key,
        assumed: 'left out',
      }),
    );
  }
  return { names, findings };
};
