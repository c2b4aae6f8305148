/** How results are called on the wire. */

const TYPES: Readonly<Record<string, string>> = {
  dxf: 'image/vnd.dxf',
  ifc: 'application/x-step',
  bcf: 'application/zip',
  json: 'application/json',
  csv: 'text/csv; charset=utf-8',
  xlsx: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
  html: 'text/html; charset=utf-8',
  pdf: 'application/pdf',
  svg: 'image/svg+xml',
  png: 'image/png',
  yaml: 'application/yaml',
};

const endingOf = (name: string): string => name.slice(name.lastIndexOf('.') + 1).toLowerCase();

export const mediaTypeOf = (name: string): string => TYPES[endingOf(name)] ?? 'application/octet-stream';

/** What a browser shows rather than keeps. */
const SHOWN = new Set(['html', 'pdf', 'svg', 'png']);
export const isShown = (name: string): boolean => SHOWN.has(endingOf(name));

/** A byte of UTF-8 as RFC 8187 writes it; attr-char stands for itself. */
const percent = (name: string): string =>
  [...new TextEncoder().encode(name)]
    .map((byte) => {
      const char = String.fromCharCode(byte);
      return /[A-Za-z0-9!#$&+.^_`|~-]/.test(char) ? char : `%${byte.toString(16).toUpperCase().padStart(2, '0')}`;
    })
    .join('');

/** Content-Disposition of RFC 6266, with the name in both forms. */
export const disposition = (kind: 'inline' | 'attachment', name: string): string => {
  const plain = name.replace(/[^\x20-\x7e]/g, '_').replace(/["\\%]/g, '_');
  return `${kind}; filename="${plain}"; filename*=UTF-8''${percent(name)}`;
};

/**
 * What a result may do in a browser. The report has a policy of its own; here it is cut off from this service: no origin, no cookies, no requests. Its script
 * works, as does any in a drawing that found a way into it, with nothing to reach.
 */
export const RESULT_POLICY =
  "sandbox allow-scripts allow-downloads; default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src data:; font-src data:; form-action 'none'; base-uri 'none'; frame-ancestors 'none'";
