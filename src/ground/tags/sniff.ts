/** What a file is by its first bytes, where it is not a DXF: one clear sentence for each. */

const startsWith = (bytes: Uint8Array, text: string, at = 0): boolean => {
  for (let i = 0; i < text.length; i++) if (bytes[at + i] !== text.charCodeAt(i)) return false;
  return true;
};

export const BINARY_MARK = 'AutoCAD Binary DXF\r\n\x1a\0';
export const isBinary = (bytes: Uint8Array): boolean => startsWith(bytes, BINARY_MARK);

const OTHERS: readonly (readonly [string, string])[] = [
  ['PK\x03\x04', 'This is a ZIP archive without a model in it, not a drawing: unpack it and hand in the DXF or IFC.'],
  ['PK\x05\x06', 'This is an empty ZIP archive, not a DXF drawing.'],
  ['\x1f\x8b', 'This is a compressed (gzip) file, not a drawing: unpack it and hand in the DXF or IFC.'],
  ['%PDF', 'This is a PDF, not a DXF drawing: ask for the drawing itself, saved as DXF.'],
  ['ISO-10303-21', 'This is a STEP or IFC file, not a DXF drawing.'],
  ['\xff\xfe', 'This file is written in UTF-16, which neither a DXF nor an IFC is: save it again.'],
  ['\xfe\xff', 'This file is written in UTF-16, which neither a DXF nor an IFC is: save it again.'],
  ['\x89PNG', 'This is a picture (PNG), not a DXF drawing.'],
  ['\xff\xd8\xff', 'This is a picture (JPEG), not a DXF drawing.'],
  ['AutoCAD DXB', 'This is a DXB file, not a DXF drawing: save it as DXF.'],
  ['<', 'This is a text with markup (HTML, XML or SVG), not a DXF drawing.'],
];

/** Why these bytes are no DXF, or null where nothing speaks against it. */
export const notDxf = (bytes: Uint8Array): string | null => {
  if (bytes.length === 0) return 'The file is empty.';
  // DWG: 'AC' and a version: AC1032, AC1.50, AC2.10; before that MC0.0.
  if ((startsWith(bytes, 'AC') && /[12]/.test(String.fromCharCode(bytes[2] ?? 0))) || startsWith(bytes, 'MC0.0')) {
    return 'This is a DWG drawing, which is not read here: save it as DXF and hand that in.';
  }
  for (const [mark, sentence] of OTHERS) if (startsWith(bytes, mark)) return sentence;
  return null;
};
