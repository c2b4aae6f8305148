/** The types of the tag layer and the names by which our own additions are known. */

/** How the bytes of strings are to be read. UTF-8 from AC1021 on, before that the code page that $DWGCODEPAGE names. */
export interface TextCoding {
  /** A label that the decoder knows: 'utf8', 'cp1252', 'cp932' … */
  readonly label: string;
}

export interface Tag {
  readonly code: number;
  /**
   * The value as it stands in the file, one char per byte (latin-1), without the line end, so that what was not touched
   * goes back byte for byte. Binary numbers are held as the shortest decimal text that reads back as the same number.
   */
  readonly value: string;
  /**
   * Both lines as they stand in a text file, line ends included, and only where they differ from the document's usual form (blanks round
   * the code, another line end). A tag that says something else by now no longer uses it.
   */
  readonly raw?: string;
}

export interface TagDocument {
  readonly form: 'text' | 'binary';
  readonly lineEnd: '\r\n' | '\n';
  /** $ACADVER, such as 'AC1009' (R12) or 'AC1032' (R2018); 'AC1009' where the header has none. */
  readonly version: string;
  readonly coding: TextCoding;
  readonly tags: readonly Tag[];
  /** Width to which group codes are padded in text form; 3 where absent. */
  readonly codeWidth?: number;
  /** Bytes (latin-1) before the first tag: a byte order mark, blank lines. */
  readonly before?: string;
  /** Bytes (latin-1) after the end-of-file tag. */
  readonly after?: string;
  /** Bytes of a group code in binary form: 1 up to R13, 2 later. */
  readonly codeBytes?: 1 | 2;
}

/** Application id by which our own entities, blocks and table entries are known again. */
export const APPLICATION_ID = 'SHUTTERWRIGHT';
/** Blocks of ours begin with this. */
export const BLOCK_PREFIX = 'SHUTTERWRIGHT-';
