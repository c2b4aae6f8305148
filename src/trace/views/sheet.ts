/** Title blocks: the table at a sheet's edge. */

import type { DrawingText } from '../../ground/vocabulary.js';
import { type Box, EMPTY, joined } from './boxes.js';

/** Labels of title blocks in several languages; common words, no source. */
const LABELS: readonly RegExp[] = [
  /^(drawn|drawn by|dwn|gezeichnet|gez\.?|dessiné|dessinateur|disegnato|dibujad[oa]|getekend|чертил|разраб|rysował)\b/iu,
  /^(checked|checked by|chk|approved|geprüft|gepr\.?|vérifié|verificato|revisado|gecontroleerd|проверил|н\.\s?контр|sprawdził)/iu,
  /^(sheet|sheet (no|number|title)|dwg|drawing (no|number|title)|blatt|plan-?\s?nr|planinhalt|feuille|tavola|hoja|plano n|blad|лист|листов|arkusz)\b/iu,
  /^(project|project (no|number|name)|job (no|number)|projekt|bauvorhaben|bv|projet|affaire|progetto|proyecto|project|проект|inwestor)\b/iu,
  /^(client|owner|bauherr|client|maître d'ouvrage|committente|cliente|opdrachtgever|заказчик|architect|architekt|architecte)\b/iu,
  /^(date|datum|data|fecha|дата)\b/iu,
  /^(scale|maßstab|massstab|échelle|scala|escala|schaal|масштаб|skala)\b/iu,
  /^(rev|revision|revisions|index|änderung|indice|revisione|wijziging|изм)\b/iu,
];
const LABELS_LEAST = 3;
/** Labels take up this much of the block in one direction at least. */
const SPREAD_SHARE = 0.3;

/** Is the text a label of a title block? */
export const isLabel = (text: string): boolean => LABELS.some((l) => l.test(text.trim()));

export const looksLikeTitleBlock = (box: Box, texts: readonly DrawingText[]): boolean => {
  const labels = texts.filter((t) => isLabel(t.text));
  const kinds = LABELS.filter((l) => labels.some((t) => l.test(t.text.trim())));
  if (kinds.length < LABELS_LEAST) return false;
  const spread = labels.reduce((b, t) => joined(b, { x0: t.at.x, y0: t.at.y, x1: t.at.x, y1: t.at.y }), EMPTY);
  const share = (a: number, b: number) => (b > 0 ? a / b : 1);
  return (
    share(spread.x1 - spread.x0, box.x1 - box.x0) >= SPREAD_SHARE ||
    share(spread.y1 - spread.y0, box.y1 - box.y0) >= SPREAD_SHARE
  );
};
