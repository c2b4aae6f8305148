/**
 * Words of concrete work in the languages of the drawings, as sources of regular expressions for flags `iu`. Common words of the trade, no
 * source. Blanks are optional, since OCR and exports drop them.
 */

/** A word for a wall, or a compound that ends in one. */
export const WALL_WORD =
  '(?:(?:keller|kelder|stütz|stuetz|aussen|außen|innen|beton|grund|buiten|stem|retaining|basement|frost)?' +
  '(?:WALLS?|W[AÄ]NDE?N?|MAUERN?|MURS?|VOILES?|MUROS?|MURI|PAREDE?S?|PARET[EI]|MURETES?|MUUR|MUREN|VEGGE?R?|V[AÄ]GG(?:AR)?|VÆGGE?|' +
  'SEINÄT?|ŚCIAN[AY]?|SCIAN[AY]|СТЕН[АЫ]?|STĚN[AY]?)(?!\\p{L}))';

/** What may stand between a thickness and the word for the wall. Block, brick and stud are not among them: such walls are not formed. */
export const CONCRETE_ADJECTIVE =
  '(?:(?:R\\.?\\s?C\\.?C?|CONCRETE|CONC|POURED|C\\.?I\\.?P|CAST[- ]?IN[- ]?(?:PLACE|SITU)|IN[- ]?SITU|REINFORCED|REINF|FOUNDATION|FOUND|' +
  'FNDN|FDTN|FDN|FND|STEM|RETAINING|RET|BASEMENT|BSMT|FROST|EXTERIOR|EXT|INTERIOR|INT|STB|STAHLBETON|BETON|B\\.?A|BÉTON(?:\\s?ARMÉ)?|' +
  'DE|HORMIG[OÓ]N|H\\.?A|ARMADO|CONCRETO|CALCESTRUZZO|C\\.?A|GEW|THICK|THK|ER)[.-]?\\s*)';

/** What a thickness may be of, if not of a wall. */
export const OTHER_PART =
  '(?:SLAB|S\\.?O\\.?G|TOPPING|FOOTING|FTG|INSUL|RIGID|GRAVEL|STONE|SAND|BLINDING|LEAN|SCREED|PLATE|MAT|RAFT|PAD|PIER|BASE|LAYER|FILL|BRICK|' +
  'CMU|BLOCK|GYP|DRYWALL|PLYWOOD|OSB|GROUT|ASPHALT|TILE|VENEER|COVER|STUD|CURB|DECK|DÄMM|DAEMM|ISOL|DALLE|PLATTE|SOHLE|ESTRICH|LOSA|RADIER|' +
  'ZAPATA|FUNDAMENT|SEMELLE|DECKE|SAUBERKEIT|KIES|SOLERA|LAJE|SAPATA|PLINTO|PLATEA|VLOER|GOLV|PLATTA|BEAM|JOIST|COLUMN)';

/** Is the first of the two patterns that the text holds `wall` or `other`? null: neither. */
export const firstOf = (text: string, wall: RegExp, other: RegExp): 'wall' | 'other' | null => {
  const w = text.search(wall);
  const o = text.search(other);
  if (w < 0 && o < 0) return null;
  return o < 0 || (w >= 0 && w < o) ? 'wall' : 'other';
};
