/** A strict reader of XML without namespaces, comments or CDATA: elements closed in order, attributes in double quotes, no bare '&' or '<'. */

export interface Node {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly Node[];
  readonly text: string;
}

const SIGNS: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"' };

const decoded = (raw: string): string => {
  if (/[<&]/.test(raw.replace(/&(?:amp|lt|gt|quot|#\d+);/g, '')))
    throw new Error(`unescaped text: ${raw.slice(0, 80)}`);
  return raw.replace(/&(?:#(\d+)|(\w+));/g, (_, code: string | undefined, name: string) =>
    code === undefined ? SIGNS[name]! : String.fromCodePoint(Number(code)),
  );
};

export const xmlTree = (xml: string): Node => {
  const head = /^<\?xml version="1\.0" encoding="UTF-8"\?>\n/.exec(xml);
  if (!head) throw new Error('no XML declaration');
  const open: { name: string; attributes: Record<string, string>; children: Node[]; text: string }[] = [
    { name: '', attributes: {}, children: [], text: '' },
  ];
  const close = (): void => {
    const done = open.pop()!;
    open.at(-1)!.children.push(done);
  };
  let at = head[0].length;
  const tag = /<(\/?)([A-Za-z]\w*)((?: [A-Za-z]\w*="[^"<]*")*)(\/?)>|[^<]+/y;
  while (at < xml.length) {
    tag.lastIndex = at;
    const found = tag.exec(xml);
    if (!found) throw new Error(`no tag at ${xml.slice(at, at + 60)}`);
    at = tag.lastIndex;
    const [whole, slash, name, attributes, empty] = found;
    if (name === undefined) open.at(-1)!.text += decoded(whole);
    else if (slash === '/') {
      if (open.at(-1)!.name !== name) throw new Error(`${name} closes ${open.at(-1)!.name}`);
      close();
    } else {
      const given = [...attributes!.matchAll(/ (\w+)="([^"]*)"/g)].map((m) => [m[1]!, decoded(m[2]!)]);
      open.push({ name, attributes: Object.fromEntries(given) as Record<string, string>, children: [], text: '' });
      if (empty === '/') close();
    }
  }
  if (open.length !== 1 || open[0]!.children.length !== 1) throw new Error('not one root element, or left open');
  return open[0]!.children[0]!;
};
