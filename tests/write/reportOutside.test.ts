/** The report's drawings read by another XML parser (expat, through Python's standard library), the page by another HTML parser. */

import { spawnSync } from 'node:child_process';
import { describe, expect } from 'vitest';
import { elevationSvg, planSvg, pressureSvg, reportHtml } from '../../src/write/report/index.js';
import { itNeeds } from '../read/samples.js';
import { exampleResult } from '../support/exampleResult.js';
import { renamed } from './renamed.js';

const PYTHON = ['python3', '/usr/bin/python3'].find((python) => spawnSync(python, ['--version']).status === 0) ?? null;
const itWithPython = itNeeds(PYTHON !== null, 'python3');

const READ_SVG = `
import sys, json, xml.etree.ElementTree as tree
root = tree.fromstring(sys.stdin.buffer.read().decode('utf-8'))
ns = '{http://www.w3.org/2000/svg}'
print(json.dumps({'root': root.tag, 'texts': [t.text for t in root.iter(ns + 'text')], 'kinds': sorted({e.tag for e in root.iter()})}))
`;

const READ_HTML = `
import sys, json, html.parser
class Reader(html.parser.HTMLParser):
    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.kinds, self.handlers, self.text, self.scripts = set(), [], [], 0
    def handle_starttag(self, tag, attrs):
        self.kinds.add(tag)
        self.scripts += tag == 'script'
        self.handlers += [name for name, value in attrs if name.startswith('on')]
    def handle_startendtag(self, tag, attrs):
        self.handle_starttag(tag, attrs)
    def handle_data(self, data):
        self.text.append(data)
    def handle_comment(self, data):
        self.kinds.add('comment')
reader = Reader()
reader.feed(sys.stdin.buffer.read().decode('utf-8'))
reader.close()
print(json.dumps({'kinds': sorted(reader.kinds), 'scripts': reader.scripts, 'handlers': reader.handlers, 'text': ''.join(reader.text)}))
`;

const python = <T>(script: string, input: string): T => {
  const run = spawnSync(PYTHON!, ['-c', script], { input, encoding: 'utf8', maxBuffer: 1 << 28 });
  if (run.status !== 0) throw new Error(run.stderr);
  return JSON.parse(run.stdout) as T;
};

const HOSTILE = `</text><script>alert(1)</script><!-- " onload="x' & &lt; ]]> \u0001\ud800 é 漢`;
const SEEN = `</text><script>alert(1)</script><!-- " onload="x' & &lt; ]]> \ufffd\ufffd é 漢`;
const hostile = renamed(exampleResult, (name) => name + HOSTILE);

describe('other readers', () => {
  itWithPython('read every drawing as XML, names from outside as text', () => {
    const faces = hostile.plan.faces.filter((f) => f.side === 'left' || f.side === 'right');
    const drawings = [
      planSvg(hostile),
      ...faces.map((f) => elevationSvg(hostile, f.id)),
      pressureSvg(hostile.layout.pressure[0]!, 'p', 'mm'),
    ];
    for (const svg of drawings) {
      const seen = python<{ root: string; texts: string[]; kinds: string[] }>(READ_SVG, svg);
      expect(seen.root).toBe('{http://www.w3.org/2000/svg}svg');
      const kinds = ['a', 'circle', 'defs', 'desc', 'g', 'path', 'pattern', 'rect', 'svg', 'text', 'title'];
      expect(seen.kinds.filter((k) => !kinds.includes(k.replace(/^.*}/, '')))).toEqual([]);
      expect(seen.texts.length).toBeGreaterThan(3);
    }
    expect(python<{ texts: string[] }>(READ_SVG, drawings[0]!).texts).toContain(`W1${SEEN}`);
  });

  itWithPython('read the page as HTML with one script, without a handler or a comment', () => {
    const seen = python<{ kinds: string[]; scripts: number; handlers: string[]; text: string }>(
      READ_HTML,
      reportHtml(hostile),
    );
    expect(seen.handlers).toEqual([]);
    expect(seen.scripts).toBe(1);
    for (const kind of ['comment', 'img', 'iframe']) expect(seen.kinds).not.toContain(kind);
    expect(seen.text).toContain(`ell.dxf${SEEN}`);
  });
});
