/**
 * Words that tell concrete cast in place from other materials, and foundations and footings by their names. The lists are *common practice, no
 * source*: names of materials and types as authoring tools and offices write them in English, German, Dutch, French, Spanish, Italian, Portuguese and the Nordic languages.
 */

import type { ModelElement } from '../../ground/vocabulary.js';

const any = (...words: readonly string[]): RegExp => new RegExp(words.join('|'), 'iu');
/** A whole word: no letter or digit beside it. */
const whole = (words: string): string => `(?<![\\p{L}\\d])(?:${words})(?![\\p{L}\\d])`;

/** Concrete that comes to the site as pieces. */
const PRECAST = any('pre-?\\s?cast', 'pre-?fab', 'fertigteil', 'préfab', 'prefabbricat', 'elementvägg', 'hollow.?core');

/** Concrete whatever else is said: reinforced, cast in place, or a strength class of EN 206 (C25/30). */
const PLAINLY = any(
  'reinforced concrete',
  'cast[- ]?in[- ]?(?:place|situ)',
  'in[- ]?situ',
  'stahlbeton',
  'ortbeton',
  'gewapend beton',
  'i\\.?h\\.?w\\.? ?g?beton',
  'b[ée]ton arm[ée]',
  'hormig[oó]n armado',
  'calcestruzzo armato',
  'cemento armato',
  'bet[ãa]o armado',
  whole('r\\.?c\\.?c?\\.?|rc[-_ ]?\\p{L}?\\d*|stb|c\\d{2}/\\d{2}'),
);

/** Anything that is not cast, each with the word for it. */
const OTHERS: readonly (readonly [string, RegExp])[] = [
  [
    'masonry',
    any(
      'masonry|brick|block(?!\\s*\\d+\\s*$)|mauerwerk|ziegel|klinker|poroton|silka|metsel|baksteen|gevelsteen|parpaing|brique|ma[çc]onnerie|moellon',
      'bloque|ladrillo|mamposter|mattone|laterizio|muratura|tijolo|alvenaria|tegel|murstein|mursten|leca|stone|naturstein',
      'betonste+i?n|betonblok|grout|mörtel|mortar|mortel',
      whole('cmu'),
    ),
  ],
  ['sand-lime block', any('kalksand', 'kalkzand', 'sand-?lime', 'calcium silicate', 'silicocalcaire')],
  ['aerated block', any('ytong|porenbeton|gasbeton|cellenbeton|siporex|hebel|aircrete|aerated|béton cellulaire')],
  [
    'timber',
    any(
      'timber|wood|lumber|plywood|holz|legno|madera|madeira',
      whole('hout|bois|trä|tre|osb|hsb|clt|multiplex|studs?'),
    ),
  ],
  ['gypsum', any('gyps|plaster|drywall|gips|plâtre|yeso|cartongesso|pleister|putz', whole('render'))],
  ['insulation', any('insul|isol|dämm|daemm|aislam|mineral ?wool|rock ?wool|styro', whole('eps|xps|pir|pur'))],
  [
    'metal or glass',
    any('steel|stahl|metal|alumin|glass|glas(?!\\p{L})|glazing|curtain|acier|acero|acciaio', whole('staal|stål|verre')),
  ],
  ['cladding', any('cladding|panel|tile|membrane|barrier|bitumen|folie|sandwich|cladd|fassade|gevelbekleding')],
  ['air', any(whole('air|air ?space|luft|luftschicht|spouw|cavity|lame d.air'))],
];

const CONCRETE = any(
  'concrete',
  'b[eé]ton',
  'betong',
  'bet[ãa]o',
  'hormig[oó]n',
  'calcestruzzo',
  'concreto',
  'beton',
  whole('cls|conc'),
);

export interface Word {
  readonly is: 'concrete' | 'other' | 'silent';
  /** What it was taken for: 'masonry'; '' where silent. */
  readonly what: string;
}

/** What one name says of the material. */
export const materialWord = (name: string): Word => {
  if (PRECAST.test(name)) return { is: 'other', what: 'precast' };
  if (PLAINLY.test(name)) return { is: 'concrete', what: 'concrete' };
  const other = OTHERS.find(([, pattern]) => pattern.test(name));
  if (other) return { is: 'other', what: other[0] };
  return CONCRETE.test(name) ? { is: 'concrete', what: 'concrete' } : { is: 'silent', what: '' };
};

/** Names of foundations: walls, types and storeys. */
export const FOUNDATION = any(
  'foundation|fundament|fundering|fundation|fondation|fondazion|cimentaci|funda[çc][ãa]o|gründung|basement|keller|kelder|kjeller|källare|sous-?sol|sótano|interrato|stem ?wall|put(?:vloer|wand)',
  whole('fdn|t/fdn|fnd|kg|ug|t\\.?o\\.?f'),
);

/** Names of footings. */
export const FOOTING = any(
  'footing|streifenfundament|einzelfundament|fundamentstro|strook|semelle|zapata|plinto|sapata|strip found|pad found|s[åa]le',
);

/** Names of slabs that carry the walls: rafts and base slabs. */
export const RAFT = any(
  'raft|base ?slab|mat found|bodenplatte|sohlplatte|fundamentplatte|funderingsplaat|radier|platea|losa de cimentaci|foundation slab|bundplade|bottenplatta',
);

/** Names of what passes through walls. */
export const SLEEVE = any(
  'sleeve|mantelbuis|hülse|fourreau|manicotto|pasamuros|durchführung|durchbruch|doorvoer|sparing|provision ?for ?void|penetration|leerrohr|kabel|pipe|duct|conduit|leitung|rohr|buis|riool|sewer',
);

/** Is an element, what it is of or its type called so? */
export const isNamed = (e: Pick<ModelElement, 'name' | 'objectType' | 'typeName'>, word: RegExp): boolean =>
  [e.name, e.objectType, e.typeName].some((name) => name !== null && word.test(name));
