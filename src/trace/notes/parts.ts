/** Long texts in parts, so that reading them stays quick whatever a file holds. */

/** General notes of a whole sheet are longer than this and are read line by line in parts. */
const PART_MOST = 1000;

/** A text as parts of whole lines; a longer line is cut. */
export const inParts = (text: string): string[] => {
  if (text.length <= PART_MOST) return [text];
  const parts: string[] = [];
  let part = '';
  for (const line of text.split('\n')) {
    for (let at = 0; at === 0 || at < line.length; at += PART_MOST) {
      const piece = line.slice(at, at + PART_MOST);
      if (part !== '' && part.length + piece.length + 1 > PART_MOST) {
        parts.push(part);
        part = '';
      }
      part = part === '' ? piece : `${part}\n${piece}`;
    }
  }
  return part === '' ? parts : [...parts, part];
};

/** A reading of every part of a text. */
export const readAll = <T>(text: string, read: (part: string) => readonly T[]): T[] =>
  inParts(text).flatMap((part) => read(part));

/** A sheet's general notes: they stand where there is room, not beside the wall that they are for. */
export const isSheetNote = (text: string): boolean => text.length > 300 || text.split('\n').length > 6;
