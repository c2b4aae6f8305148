/** Layer names → words. */

/** Name without the prefix that binding an external reference leaves (`file$0$NAME`) or shows (`file|NAME`). */
export const withoutXref = (name: string): string => name.replace(/^.*\$\d+\$/s, '').replace(/^.*\|/s, '');

/**
 * Words for wall that stand last in compounds of Germanic languages and in English names written without a gap. The first part has at
 * least two letters.
 */
const COMPOUND =
  /^(.{2,}?)(wände|waende|wanden|wand|mauern|mauer|muren|muur|väggar|vägg|vaggar|vagg|vegger|vegg|vægge|væg|seinät|seinä|walls|wall)$/u;
/** Nordic compounds with mur, which is too short to be looked for in any word. */
const COMPOUND_MUR = /^(grund|grunn|støtte|stotte|stöd|stod|källar|kjeller)(?:s)?(mur|murar|murer)$/u;
/** Beginnings of compounds that tell by themselves: Kellergeschosswand, Betonaussenwand, Fundamentbalken. */
const BEGINNING =
  /^(keller|kelder|källar|kallar|kjeller|kælder|untergeschoss|fundament|fundering|stahlbeton|betong|beton|stütz|stuetz|keer|trockenbau|gipskarton|leichtbau|mauerwerk|holz|trenn|fire|conc|rc|fndn|fnd|fdn|found|stem|basement|bsmt|retaining|shear|dry)(?:s|en)?/u;

const parted = (word: string): string[] => {
  const found = COMPOUND_MUR.exec(word) ?? COMPOUND.exec(word);
  if (!found) return [word];
  const [, first, wall] = found;
  const beginning = BEGINNING.exec(first!)?.[1];
  return [word, ...(beginning === undefined || beginning === first ? [first!] : [first!, beginning]), wall!];
};

/** Lower-case words of a name: parted by signs, digits and changes from small to capital letters; compounds with a wall also in their parts. */
export const nameWords = (name: string): string[] =>
  withoutXref(name)
    .normalize('NFC')
    .replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2')
    // 'RCWall': capitals before a capital that begins a word.
    .replace(/(\p{Lu}{2,})(\p{Lu}\p{Ll})/gu, '$1 $2')
    .toLowerCase()
    .split(/[^\p{L}\p{M}]+/u)
    .filter((w) => w !== '')
    .flatMap(parted);
