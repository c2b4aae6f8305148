/**
 * How levels are named: top or bottom of what, in the languages of the drawings. TOW, T.O. WALL, TOS, T.O.FTG and T/FTG are seen in public
 * drawings; the rest is from memory of the trade.
 */

import { WALL_WORD } from './words.js';

/** What a level is of. `concrete-top`: of a wall or a footing, not said which. `other`: of something that is neither wall, footing nor floor. */
export type LevelOf =
  | 'wall-top'
  | 'wall-bottom'
  | 'footing-top'
  | 'footing-bottom'
  | 'concrete-top'
  | 'floor'
  | 'other'
  | 'unknown';

const OF =
  "\\s*(?:OF\\s*(?:THE\\s*)?|DE\\s*LA\\s*|DE\\s*|DEL\\s*|DELLA\\s*|DELLE\\s*|DU\\s*|DES\\s*|D'|DO\\s*|DA\\s*|V(?:AN)?\\.?\\s*(?:D(?:E)?\\.?\\s*)?)?";

const TOP =
  '(?:TOP|T\\.\\s?O\\.?|TO\\.|T\\s?\\/|O\\.\\s?K\\.?|OK|OBERKANTE|[ÖO]VERKANT|ÖK|[BT]\\.\\s?K\\.?|BK|BOVENKANT|ARASE\\s*SUP(?:ÉRIEURE|ERIEURE)?\\.?|ARASE(?!\\s*INF)|' +
  'DESSUS|SUP(?:ÉRIEURE?|ERIEURE?|ERIORE?)?\\.?|T[ÊE]TE|HAUT|CORONACI[OÓ]N|CARA\\s*SUP(?:ERIOR)?\\.?|TOPO|ESTRADOSSO|ESTR\\.|SOMMIT[ÀA]|' +
  'TESTA|WIERZCH|G[ÓO]RA|ВЕРХА?)';
const BOTTOM =
  '(?:BOTTOM|BOT\\.?|BTM\\.?|B\\.\\s?O\\.?|B\\s?\\/|U\\.?\\s?\\/\\s?S\\.?|UNDERSIDE|U\\.\\s?K\\.?|UK|UNTERKANTE|UNDERKANT|ONDERKANT|' +
  'SOUS[- ]?FACE|S\\/F|ARASE\\s*INF(?:ÉRIEURE|ERIEURE)?\\.?|INF(?:ÉRIEURE?|ERIEURE?|ERIORE?)?\\.?|DESSOUS|FONDO?|FUNDO|BAS|ASSISE|CARA\\s*INF(?:ERIOR)?\\.?|' +
  'INTRADOSSO|INTR\\.|IMPOSTA|DESPLANTE|SP[ÓO]D|D[ÓO]Ł|НИЗА?)';
/** Dutch: 'o.k.' is onderkant, the bottom; German and Danish: 'OK' is the top. The thing's own name tells the language. */
const DUTCH_BOTTOM = '(?:O\\.\\s?K\\.?|OK|ONDERKANT)';
const DUTCH_THING = '(?:FUNDERING(?:SSTROOK|EN)?|POER(?:EN)?|STROOK|STROKEN|FUNDERINGSBALK)';

const BESIDES =
  '(?:(?:CONCRETE|CONC|FOUNDATION|FNDN|FDTN|FDN|FND|STEM|RETAINING|RET|BASEMENT|BSMT|GRADE|EXTERIOR|EXT|INTERIOR|INT|R\\.?C|CONTINUOUS|CONT|STRIP|' +
  'SPREAD|WALL|ALL|NEW|PERIMETER|STEPPED|HOUSE|GARAGE|BLDG|STB|FROST)\\.?\\s*)';

const FOOTING =
  '(?:FOOTINGS?|FOOTERS?|FTN?GS?|MAT(?!\\p{L})|RAFT|BASE\\s*SLAB|(?:STREIFEN|EINZEL|PUNKT|PLATTEN)?-?\\s*FUND(?:AMENTE?[RTNS]?|AMENTPLATTE|\\.)?(?!\\p{L})|' +
  'BODENPLATTE|BOPL(?:A|\\.)|SOHL(?:E|PLATTE)(?!\\p{L})|SEMELLES?|FONDATIONS?|RADIER|ZAPATAS?|CIMENTACI[OÓ]N|CIMIENTOS?|SAPATAS?|FONDAZION[EI]|PLINT[OI]|PLATEA|' +
  'FUNDERING|POER|STROOK|(?:GRUND)?SUL[AO](?!\\p{L})|GRUNDPLATTA|BOTTENPLATTA|SÅLE|BUNDPLADE|ŁAW[AY]|STOP[AY](?!\\p{L})|FUNDAMENTU|ФУНДАМЕНТА?|ПОДОШВ[АЫ])';
const FLOOR =
  '(?:SLAB|FLOOR|FLR|S\\.?O\\.?G|F\\.?F\\.?B|R\\.?F\\.?B|FF(?!\\p{L})|RF(?!\\p{L})|RD(?!\\p{L})|FERTIGFU(?:SS|ß)BODEN|ROHFU(?:SS|ß)BODEN|FU(?:SS|ß)BODEN|ROHDECKE|' +
  'DECKE|ESTRICH|DALLE|PLANCHER|LOSA|PISO|FORJADO|LAJE|SOLAIO|PAVIMENTO|VLOER|GOLV|GULV|BJÄLKLAG|DÆK|P[ŁL]YTY|POSADZKI|ПЛИТЫ|ПОЛА)';
const FOUNDATION_ALONE = '(?:CONCRETE|CONC|FOUNDATION|FDN|FNDN|FDTN|FND|BETON|BÉTON)\\.?(?!\\p{L})';

/** Things that have levels and are none of ours. */
const ELSE =
  '(?:SILL|HEAD(?:ER)?|INV(?:ERT)?\\.?|(?:FIN(?:ISHED)?\\.?|EXIST(?:ING)?\\.?)?\\s*GRADE|RIM|(?:BRICK\\s*)?LEDGE|SHELF|PIERS?|PILE\\s*CAPS?|PILES?|BEAM|STEEL|STL|PLATE|PL|' +
  'PARAPET|PEDESTAL|COLUMN|COL|CURB|KERB|ROOF|RIDGE|EAVES?|SUMP|PIT|MANHOLE|MH|WATER|W\\.?L|ROAD|DRAIN|PIPE|F\\.?G|E\\.?G|JOIST|JST|DECK|' +
  'BLOCK|CMU|MASONRY|BRICK|STUD|STURZ|BR(?:Ü|UE)STUNG|BRH|ATTIKA|GEL(?:Ä|AE)NDE|G\\.?O\\.?K|BALKEN|TR(?:Ä|AE)GER|UNTERZUG|LINTEAU|ALL[ÈE]GE|TERRAIN|TN|N\\.?T\\.?N|' +
  'TERRENO|VIGA|POUTRE|TRAVE|BALK|GROND|MAAIVELD|TERENU)';

/** A digit may stand before: exports drop the blank between two notes. */
const START = '(?<!\\p{L})';

export interface LevelLabel {
  readonly of: LevelOf;
  readonly pattern: RegExp;
}

const label = (of: LevelOf, ...sources: string[]): LevelLabel => ({
  of,
  pattern: new RegExp(`${START}(?:${sources.join('|')})\\.?`, 'giu'),
});

/** The longest match at a place counts; of equal ones the first in this list. */
export const LEVEL_LABELS: readonly LevelLabel[] = [
  label('footing-bottom', `${DUTCH_BOTTOM}${OF}${DUTCH_THING}`),
  label(
    'footing-top',
    `${TOP}${OF}${BESIDES}{0,4}${FOOTING}`,
    'T\\.?\\s?O\\.?\\s?F(?:\\.|(?!\\p{L}))',
    'TOF(?=EL)',
    'N\\.?S\\.?Z(?:\\.|(?!\\p{L}))',
    '(?:FTG|FOOTING)\\.?\\s*TOP',
    `${FOOTING}\\s*-?\\s*(?:OK|OBERKANTE)(?!\\p{L})`,
  ),
  label(
    'footing-bottom',
    `${BOTTOM}${OF}${BESIDES}{0,4}(?:${FOOTING}|${FOUNDATION_ALONE})`,
    'B\\.?\\s?O\\.?\\s?F(?:\\.|(?!\\p{L}))',
    'U\\.?S\\.?F(?:\\.|(?!\\p{L}))',
    `${FOOTING}\\s*-?\\s*(?:UK|UNTERKANTE)(?!\\p{L})`,
    'N\\.?F\\.?[ZC](?:\\.|(?!\\p{L}))',
    'NIVEL\\s*DE\\s*DESPLANTE|N\\.\\s?D\\.',
    "NIV(?:EAU|\\.)?\\s*D'ASSISE",
    'PIANO\\s*DI\\s*POSA|POSADOWIENI[EA]|AANLEGNIVEAU|COTA\\s*DE\\s*(?:APOYO|ASSENTAMENTO)|GRÜNDUNGSSOHLE',
  ),
  // Dotted 'o.k. wand' is Dutch for the bottom and German for the top.
  // BW stands for the bottom of a wall and for the ground at its foot.
  label('unknown', `O\\.\\s?K\\.?${OF}${WALL_WORD}`, 'OKF(?!\\p{L})', 'T\\s?\\/\\s?F(?!\\p{L})', 'BW(?!\\p{L})'),
  label(
    'wall-top',
    `${TOP}${OF}${BESIDES}{0,4}${WALL_WORD}`,
    'T\\.?\\s?O\\.?\\s?(?:F\\.?|C\\.?)?W(?:\\.|(?!\\p{L})|(?=EL))',
    'T\\s?\\/\\s?W(?:\\.|(?!\\p{L}))',
    'TW(?!\\p{L})',
    `${WALL_WORD}\\s*-?\\s*(?:OK|OBERKANTE)(?!\\p{L})`,
    'OKW(?!\\p{L})',
  ),
  label(
    'wall-bottom',
    `${BOTTOM}${OF}${BESIDES}{0,4}${WALL_WORD}`,
    'B\\.\\s?O\\.?\\s?W(?:\\.|(?!\\p{L}))',
    'BOW(?!\\p{L})',
    'B\\s?\\/\\s?W(?!\\p{L})',
  ),
  label(
    'concrete-top',
    `${TOP}${OF}${BESIDES}{0,3}${FOUNDATION_ALONE}`,
    'T\\.?\\s?O\\.?\\s?C(?:\\.|(?!\\p{L}))',
    'T\\s?\\/\\s?C(?!\\p{L})',
  ),
  label(
    'floor',
    `${TOP}${OF}${BESIDES}{0,3}${FLOOR}`,
    'F\\.?\\s?F\\.?\\s?L(?:\\.|(?!\\p{L}))',
    'F\\.?\\s?F\\.?\\s?E(?:\\.|(?!\\p{L}))',
    'F\\.?\\s?F\\.?(?=\\s*EL)',
    'S\\.?\\s?[SF]\\.?\\s?L(?:\\.|(?!\\p{L}))',
    'FIN(?:ISHED|\\.)?\\s*(?:FLOOR|FLR|FL\\.?)(?:\\s*LEVEL)?',
    'N\\.?\\s?P\\.?\\s?T(?:\\.|(?!\\p{L}))',
    'N\\.?S\\.?L(?:\\.|(?!\\p{L}))',
    '(?:FFB|RFB|RD|FF|FB)\\.?\\s?OK(?!\\p{L})',
    '(?:SLAB|FLOOR|DALLE|PLANCHER|BODENPLATTE)\\s*(?=EL|LEVEL|\\+|-|±)',
  ),
  label(
    'other',
    `(?:${TOP}|${BOTTOM})${OF}${BESIDES}{0,3}${ELSE}(?:\\.|(?!\\p{L}))`,
    `${BOTTOM}${OF}${BESIDES}{0,3}${FLOOR}`,
    `${ELSE}(?:\\.|(?!\\p{L}))`,
    'TOS(?!\\p{L})',
  ),
];

/** Tops and bottoms of anything else: only where nothing of the list above stands. */
export const OTHER_LABELS: readonly LevelLabel[] = [
  label(
    'other',
    'T\\.\\s?O\\.?\\s?\\p{L}{1,8}\\.?',
    'T\\s?\\/\\s?\\p{L}{1,8}\\.?',
    'B\\.\\s?O\\.?\\s?\\p{L}{1,8}\\.?',
    'B\\s?\\/\\s?\\p{L}{1,8}\\.?',
    '(?:TOP|BOTTOM)\\s*OF\\s*\\p{L}+\\.?',
    'UK\\s*\\p{L}+',
  ),
];

/** Words that say: here comes a level; the last three name a public datum. */
export const LEVEL_WORD =
  '(?:ELEVATION|R\\.?\\s?L(?:\\.|(?!\\p{L}))|ELEV\\.?|EL(?:\\.|(?!\\p{L}))|LEVEL|LVL\\.?|LEV\\.|NIVEAU|NIV\\.|NIVEL|N[ÍI]VEL|KOTE|COTE|COTA|QUOTA|KOTA|HÖHE|HOEHE|ОТМ\\.?|ОТМЕТКА|RZĘDNA|RZ\\.|NIVÅ|PEIL|NGF|NHN|NAP)';

/** Written after a level: it is above the sea or another public datum, not in the plan's own. */
export const SURVEY_DATUM =
  '(?:m\\s*)?(?:[üu]\\.?\\s?(?:NHN|NN|M(?:eer)?(?:\\.|(?!\\p{L})))|m?\\s?NHN|m?\\s?NN(?!\\p{L})|NGF(?:\\s*69)?|N\\.G\\.F\\.?|m?\\+?\\s?NAP|A\\.?O\\.?D(?:\\.|(?!\\p{L}))|AHD|' +
  'm?\\.?\\s?s\\.?n\\.?m\\.?(?!\\p{L})|s\\.?l\\.?m\\.?(?!\\p{L})|n\\.?p\\.?m\\.?(?!\\p{L})|m\\.?ö\\.?h\\.?|A\\.?S\\.?L(?:\\.|(?!\\p{L}))|NAVD(?:\\s*88)?|NGVD|GEODETIC)';

/** Written after a length: it is measured from something, so it is no level by itself. */
export const RELATIVE =
  '(?:\\s*(?:MIN(?:IMUM)?\\.?|MAX(?:IMUM)?\\.?|\\)))*\\s*(?:BELOW|BLW|ABOVE|ABV|UNDER(?!\\s*SIDE)|OVER|LOWER|HIGHER|BENEATH|DOWN|UP(?!\\p{L})|FROM|MIN(?:IMUM)?(?!\\p{L})|MAX(?:IMUM)?(?!\\p{L})|' +
  'UNTER|ÜBER|UNTERHALB|OBERHALB|SOUS|AU[- ]DESSUS|AU[- ]DESSOUS|BAJO|SOBRE|ABAIXO|ACIMA|SOTTO|SOPRA|ONDER|BOVEN|A\\.?F\\.?F|A\\.?F\\.?G)';

/** Written after a length: it is a size or a spacing. */
export const NO_LEVEL =
  '\\s*(?:TH(?:IC)?K|WIDE|DEEP|LONG|HIGH|TALL|DIA|O\\.?\\s?C(?:\\.|(?!\\p{L}))|C\\/C|@(?=\\s*\\d)|CLR|CLEAR|COVER|PSI|KPA|MPA|KSI|KN|KG|LB|BARS?|SQ|S\\.?F\\.?(?!\\p{L})|[²³%°#]|' +
  'X(?=\\s?\\d)|STK|PCS)';

/** Said of all that is not marked otherwise. */
export const GENERAL =
  /(?<!\p{L})(?:ALL(?!\p{L})|TYP(?:ICAL)?(?!\p{L})|U\.?\s?N\.?\s?O(?!\p{L})|U\.?\s?O\.?\s?N(?!\p{L})|UNLESS|GENERAL|SOWEIT NICHT|WENN NICHT|SAUF|SALVO|SE NON|TENZIJ|OM EJ ANNAT)/iu;
