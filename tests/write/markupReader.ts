/**
 * A strict reader of our own HTML and SVG for tests: every tag well formed, attributes in double quotes, elements closed in order. Stricter than
 * HTML asks for, so that whatever passes reads the same in every program.
 */

export interface Tag {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
}

export interface Document {
  readonly tags: readonly Tag[];
  /** Text between tags, entities resolved, outside of style and script elements. */
  readonly text: string;
  readonly scripts: readonly string[];
}

const VOID = new Set(['meta', 'br', 'wbr', 'hr', 'img', 'link', 'input']);
const TAG = /^<(\/?)([A-Za-z][A-Za-z0-9]*)((?:\s+[A-Za-z][A-Za-z0-9:-]*="[^"<>]*")*)\s*(\/?)>/;
const ATTRIBUTE = /([A-Za-z][A-Za-z0-9:-]*)="([^"<>]*)"/g;
const ENTITY = /&(amp|lt|gt|quot|#39);/g;
const SIGNS: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', '#39': "'" };

/** Text as a reader sees it; a bare ampersand is an error. */
export const decoded = (raw: string): string => {
  const bare = raw.replace(ENTITY, '');
  if (/[&<]/.test(bare)) throw new Error(`unescaped text: ${raw.slice(0, 80)}`);
  return raw.replace(ENTITY, (_, name: string) => SIGNS[name]!);
};

const attributesOf = (raw: string): Map<string, string> => {
  const found = new Map<string, string>();
  for (const [, name, value] of raw.matchAll(ATTRIBUTE)) {
    if (found.has(name!)) throw new Error(`attribute ${name} twice`);
    found.set(name!, decoded(value!));
  }
  return found;
};

/** Reads a whole document or fragment; throws at the first thing that is not well formed. */
export const readMarkup = (source: string): Document => {
  const tags: Tag[] = [];
  const open: string[] = [];
  const texts: string[] = [];
  const scripts: string[] = [];
  let rest = source.replace(/^<!doctype html>/, '');
  while (rest !== '') {
    const next = open.at(-1) === 'script' ? rest.indexOf('</script>') : rest.indexOf('<');
    const text = next < 0 ? rest : rest.slice(0, next);
    if (open.at(-1) === 'script') scripts.push(text);
    else if (open.at(-1) === 'style') {
      if (/[<]/.test(text)) throw new Error('markup in a style sheet');
    } else texts.push(decoded(text));
    rest = next < 0 ? '' : rest.slice(next);
    if (rest === '') break;
    const match = TAG.exec(rest);
    if (match === null) throw new Error(`no tag: ${rest.slice(0, 120)}`);
    const [whole, closing, name, raw, empty] = match;
    rest = rest.slice(whole.length);
    if (closing === '/') {
      const last = open.pop();
      if (last !== name) throw new Error(`</${name}> closes ${last ?? 'nothing'}`);
      continue;
    }
    tags.push({ name: name!, attributes: attributesOf(raw!) });
    if (empty !== '/' && !VOID.has(name!)) open.push(name!);
  }
  if (open.length > 0) throw new Error(`not closed: ${open.join(' ')}`);
  return { tags, text: texts.join(''), scripts };
};
