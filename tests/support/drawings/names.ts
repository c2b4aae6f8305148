/** How offices name layers. Words of the trade in five languages (common words), the NCS form, an ISO 13567-like code, and everything on layer 0. */

export type Part =
  | 'wall'
  | 'wallHatch'
  | 'axis'
  | 'footing'
  | 'grid'
  | 'dims'
  | 'text'
  | 'door'
  | 'furniture'
  | 'slab'
  | 'stair'
  | 'column'
  | 'frame'
  | 'section';

export type Naming = Readonly<Record<Part, string>>;

const PARTS: readonly Part[] = [
  'wall',
  'wallHatch',
  'axis',
  'footing',
  'grid',
  'dims',
  'text',
  'door',
  'furniture',
  'slab',
  'stair',
  'column',
  'frame',
  'section',
];

const naming = (names: string): Naming => {
  const list = names.split(' ');
  if (list.length !== PARTS.length) throw new Error(`wants ${PARTS.length} names`);
  return Object.fromEntries(PARTS.map((p, i) => [p, list[i]!])) as unknown as Naming;
};

export const NAMINGS = {
  ncs: naming(
    'S-FNDN-WALL S-FNDN-PATT S-FNDN-CNTR S-FNDN-FTNG S-GRID S-ANNO-DIMS S-ANNO-TEXT A-DOOR A-FURN S-SLAB A-FLOR-STRS S-COLS G-ANNO-TTLB S-SECT',
  ),
  iso: naming(
    'S-162---E-WALL S-162---H- S-162---C-AXIS S-161---E-FOOTING S-000---G-GRID S-000---D-DIM S-000---T-TEXT A-315---E-DOOR A-700---E-FURNITURE S-130---E-SLAB A-240---E-STAIR S-280---E-COLUMN G-000---B-BORDER S-000---V-SECTION',
  ),
  german: naming(
    'Kellerwände Schraffur Wandachsen Streifenfundamente Achsen Bemaßung Texte Türen Möbel Bodenplatte Treppen Stützen Plankopf Schnitte',
  ),
  french: naming(
    'MURS-FONDATION HACHURES MURS-AXES SEMELLES AXES COTES TEXTES PORTES MOBILIER DALLE ESCALIERS POTEAUX CARTOUCHE COUPES',
  ),
  spanish: naming(
    'MUROS-CIMENTACION TRAMA MUROS-EJES ZAPATAS EJES COTAS TEXTOS PUERTAS MUEBLES LOSA ESCALERAS PILARES CAJETIN SECCIONES',
  ),
  plain: naming('Walls Hatch Centerlines Footings Grid Dims Notes Doors Furniture Slab Stairs Columns Border Sections'),
  zero: naming(PARTS.map(() => '0').join(' ')),
} as const;

/** As binding an external reference leaves the names. */
export const bound = (names: Naming, file: string): Naming =>
  Object.fromEntries(
    Object.entries(names).map(([part, name]) => [part, name === '0' ? '0' : `${file}$0$${name}`]),
  ) as unknown as Naming;
