/** Makes the page's files in dist: run by `npm run build`. */

import { cpSync, mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const from = (name) => fileURLToPath(new URL(name, import.meta.url));
const to = fileURLToPath(new URL('../../../dist/service/page/', import.meta.url));

mkdirSync(to, { recursive: true });
await build({
  entryPoints: [from('app.ts')],
  outfile: `${to}app.js`,
  bundle: true,
  minify: true,
  format: 'iife',
  target: 'es2022',
  legalComments: 'none',
  logLevel: 'warning',
});
for (const name of ['index.html', 'style.css', 'icon.svg']) cpSync(from(name), `${to}${name}`);
