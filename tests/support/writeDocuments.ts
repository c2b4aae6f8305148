/** Writes the documents that are made from the code: `npm run docs`. */

import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { documents } from './documents.js';
import { ROOT } from './repository.js';

for (const [path, text] of Object.entries(documents())) {
  mkdirSync(dirname(join(ROOT, path)), { recursive: true });
  writeFileSync(join(ROOT, path), text);
}
