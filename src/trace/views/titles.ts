/**
 * Titles of views and scale notes, as they stand below the drawings on a sheet. Words of the trade in several languages (common words, no
 * source); forms of scale notes: 1:50, 1/4"=1'-0".
 */

export type ViewKind =
  | 'foundation plan'
  | 'plan'
  | 'section'
  | 'elevation'
  | 'detail'
  | 'schedule'
  | 'sheet'
  | 'unknown';

export interface Title {
  readonly kind: ViewKind;
  /** Of plans: 0 ground floor, 1 the next, 9 roof; null: not said. Basements and foundations are foundation plans. */
  readonly storey: number | null;
  readonly text: string;
}

/** A title is no longer than this and has no more lines. *Practice, no source.* */
const TITLE_CHARACTERS_MOST = 64;
const TITLE_LINES_MOST = 4;

/** What refers to another drawing is no title of this one. */
const REFERS =
  /^(see|refer|ref\.?|per|as per|cf\.?|match|siehe|s\.|vgl\.?|voir|vedi|ver|véase|zie|se|см\.?|viz|patrz)\s/iu;
/** An elevation that is a level: "TOP OF FOOTING ELEVATION", "ELEVATION 98'-6\"". */
const LEVEL =
  /\b(t\.?\s?o\.?|b\.?\s?o\.?|top|bottom|finish(ed)?|datum|bench\s?mark)\b|\belev(ation)?\.?\s*[:=]?\s*[-+±]?\d+\s*['′.,]/iu;

const FOUNDATION: readonly RegExp[] = [
  /\b(foundations?|fdn\.?|fndn\.?|fnd\.?|found\.?|footings?|stem\s?walls?|basement|cellar|substructure)\b.*\b(plan|layout|key)\b/iu,
  /\b(plan|layout)\b.*\b(foundations?|footings?|basement)\b/iu,
  /^(basement|lower)\s+(floor|level)\b/iu,
  /fundament(e|ierungs)?\s?(plan|grundriss|übersicht|lageplan)|grundriss.*(fundament|keller|untergesch|\bkg\b|\bug\b|gründung)|^(kellergeschoss|untergeschoss|keller|kg|ug)$|gründungsplan/iu,
  /plan.*(fondations?|sous-sol|soubassement)|^(fondations|sous-sol)$|coffrage.*fondations?/iu,
  /piant[ae].*(fondazion|interrat|cantin)|^fondazioni$|plan[to]a?.*(cimentaci|cimientos|fundaç|fundac|s[óo]tano|subsuelo|cave)|^cimentaci[óo]n$/iu,
  /funderingsplan|funderingsplattegrond|(plan|plattegrond|grondplan).*(fundering|kelder)|^(fundering|kelder)$/iu,
  /fundament(tegning|plan)|grunnplan|grund(plan|ritning)|(plan|ritning).*(källare|kjeller|kælder|grund)|perustus.*(piirustus|kuva|plan)|pohja.*kellari/iu,
  /план.*(фундамент|подвал|цокол)|^фундамент(ы)?$|rzut.*(fundament|piwnic)|půdorys.*(základ|suter)|temel.*plan|alaprajz.*(pince|alap)|κάτοψη.*(θεμελ|υπογ)/iu,
  /(基础|基礎|地下室).*(平面|布置|图|図)|기초\s?평면/u,
];

const STOREYS: readonly (readonly [RegExp, number])[] = [
  [
    /\broof|dachdraufsicht|dachgeschoss|dachaufsicht|\btoiture|copertura|cubierta|\bdak\b|кровл|dachu|půdorys střechy|屋顶|屋面/iu,
    9,
  ],
  [
    /\b(attic|loft|upper|second|2nd|third|3rd|fourth|4th)\b|obergeschoss|\b[1-9]\.?\s?og\b|\bog\b|étage|primo piano|piano primo|planta (alta|primera|segunda)|verdieping|\d\s?этаж|piętr|emelet/iu,
    1,
  ],
  [
    /\b(ground|main|first|1st)\b|erdgeschoss|\beg\b|rez-de-chauss|piano terra|planta baja|begane grond|parter|přízemí|földszint|一层|首层/iu,
    0,
  ],
];

const PLAN =
  /\bplans?\b|grundriss|geschoss|\b(eg|og|dg)\b|piant[ae]\b|planta\b|plattegrond|grondplan|verdieping|план|rzut|půdorys|alaprajz|κάτοψη|平面|layout\b|^(ground|first|second|third|main|upper) (floor|level)$|rez-de-chauss|étage/iu;

const OTHERS: readonly (readonly [RegExp, ViewKind])[] = [
  [
    /\b(schedule|legend|legende|légende|leyenda|abbreviations|stückliste|stahlliste|biegeliste|nomenclature|ведомость|спецификация|tabela)\b|^(general |structural |foundation |concrete )*notes\b|明细表|图例/iu,
    'schedule',
  ],
  [
    /\bdetails?\b|^détails?\b|^dettagli[oi]\b|^detalles?\b|^detaljer?\b|узел|детал|^szczegół|详图|大样|^typ(ical|\.)?\s.*\b(section|footing|pier|pad|corner|step|joint|wall)\b/iu,
    'detail',
  ],
  [
    /\bsections?\b|schnitt\b|^schnitte?\b|^coupe\b|^sezione\b|^secci[óo]n\b|^corte\b|^doorsnede|^snede\b|^разрез|^сечение|^przekrój|^řez\b|^snitt\b|^kesit|^metszet|剖面|断面|단면/iu,
    'section',
  ],
  [
    /\belevations?\b|ansicht(en)?\b|^élévation|^façade|^facade|^prospett[oi]|^alzado|^fachada|^gevel|^фасад|^elewacja|^pohled|^homlokzat|立面|입면/iu,
    'elevation',
  ],
];

/** What a line of text is the title of, or null. */
const lineTitle = (line: string): Title | null => {
  // Numbers and letters of the bubble before the title: "1 FOUNDATION PLAN", "A) ...".
  const text = line.replace(/^\(?[\dA-Z]{1,3}[).:]\s*|^\d{1,3}\s+/u, '').trim();
  if (text.length < 2 || text.length > TITLE_CHARACTERS_MOST || REFERS.test(text) || LEVEL.test(text)) return null;
  const title = (kind: ViewKind, storey: number | null = null): Title => ({ kind, storey, text: line });
  const other = OTHERS.find(([pattern]) => pattern.test(text));
  if (other) return title(other[1]);
  if (FOUNDATION.some((pattern) => pattern.test(text))) return title('foundation plan');
  if (!PLAN.test(text)) return null;
  return title('plan', STOREYS.find(([pattern]) => pattern.test(text))?.[1] ?? null);
};

/** The title that a text is or holds, or null: notes, references and levels are none. */
export const readTitle = (text: string): Title | null => {
  const lines = text
    .split('\n')
    .map((l) => l.replace(/\s+/gu, ' ').trim())
    .filter((l) => l !== '');
  if (lines.length > TITLE_LINES_MOST) return null;
  for (const line of lines) {
    const found = lineTitle(line);
    if (found) return found;
  }
  return null;
};

/** How many times smaller than the thing a drawing is plotted, by its scale note; null: the text is none. */
export const readScale = (text: string): number | null => {
  const metric = /(?:^|[\s(:])1\s*[:/]\s*(\d{1,4})\b(?!\s*["''″])/u.exec(text);
  if (
    metric &&
    /^\W*(scale|maßstab|massstab|m|échelle|ech|scala|escala|schaal|масштаб|skala|1)\b/iu.test(text.trim())
  ) {
    const n = Number(metric[1]);
    return n >= 1 ? n : null;
  }
  const us = /(?:(\d+)[\s-]+)?(\d+)(?:\/(\d+))?\s*["″]\s*=\s*(\d+)\s*['′](?:\s*-?\s*(\d+)\s*["″])?/u.exec(text);
  if (!us) return null;
  const [, whole, top, bottom, feet, inches] = us.map((x) => (x === undefined ? 0 : Number(x)));
  const paper = whole! + (us[3] === undefined ? top! : bottom! > 0 ? top! / bottom! : 0);
  return paper > 0 ? (feet! * 12 + inches!) / paper : null;
};
