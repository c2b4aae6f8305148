/** How offices name layers. Words of the trade in five languages (common words), the NCS form, the forms of ISO 13567 and BS 1192, and everything on layer 0. */

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
  | 'section'
  | 'partition';

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
  'partition',
];

const naming = (names: string): Naming => {
  const list = names.split(' ');
  if (list.length !== PARTS.length) throw new Error(`wants ${PARTS.length} names`);
  return Object.fromEntries(PARTS.map((p, i) => [p, list[i]!])) as unknown as Naming;
};

export const NAMINGS = {
  ncs: naming(
    'S-FNDN-WALL S-FNDN-PATT S-FNDN-CNTR S-FNDN-FTNG S-GRID S-ANNO-DIMS S-ANNO-TEXT A-DOOR A-FURN S-SLAB A-FLOR-STRS S-COLS G-ANNO-TTLB S-SECT A-WALL-PRHT',
  ),
  iso: naming(
    'S-WALL--E-N S-WALL--H-N S-WALL--K-N S-FTNG--E-N S-GRID--E-N S-WALL--D-N S-WALL--T-N A-DOOR--E-N A-FURN--E-N S-SLAB--E-N A-STAIR-E-N S-COLS--E-N G-FRAME-B-N S-SECT--E-N A-PARTN-E-N',
  ),
  british: naming(
    'S-G25-M-Walls S-G25-H-Hatching S-G25-M-Centrelines S-G21-M-Footings S-G90-G-Grid S-G90-D-Dims S-G90-T-Text A-G32-M-Doors A-G60-M-Furniture S-G22-M-Slab A-G24-M-Stairs S-G26-M-Columns Z-G90-B-Border S-G90-M-Sections A-G32-M-Partitions',
  ),
  german: naming(
    'Kellerwände Schraffur Wandachsen Streifenfundamente Achsen Bemaßung Texte Türen Möbel Bodenplatte Treppen Stützen Plankopf Schnitte Trennwände',
  ),
  french: naming(
    'MURS-FONDATION HACHURES MURS-AXES SEMELLES AXES COTES TEXTES PORTES MOBILIER DALLE ESCALIERS POTEAUX CARTOUCHE COUPES CLOISONS',
  ),
  spanish: naming(
    'MUROS-CIMENTACION TRAMA MUROS-EJES ZAPATAS EJES COTAS TEXTOS PUERTAS MUEBLES LOSA ESCALERAS PILARES CAJETIN SECCIONES TABIQUES',
  ),
  plain: naming(
    'Walls Hatch Centerlines Footings Grid Dims Notes Doors Furniture Slab Stairs Columns Border Sections Partitions',
  ),
  zero: naming(PARTS.map(() => '0').join(' ')),
} as const;

/** As binding an external reference leaves the names. */
export const bound = (names: Naming, file: string): Naming =>
  Object.fromEntries(
    Object.entries(names).map(([part, name]) => [part, name === '0' ? '0' : `${file}$0$${name}`]),
  ) as unknown as Naming;
