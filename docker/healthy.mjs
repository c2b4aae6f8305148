/**
 * Whether the program in this container is well, for HEALTHCHECK: `serve` is asked at its own port; the other commands have none, and are well while they
 * run. Ends with 0 or 1.
 */

import { readFileSync } from 'node:fs';

/** What the container runs: of its first process, or of what that was told to run. */
const words = readFileSync(process.argv[2] ?? '/proc/1/cmdline', 'utf8').split('\0');

if (words.includes('serve')) {
  const at = words.findIndex((word) => word === '--port' || word.startsWith('--port='));
  const port = at < 0 ? 8080 : Number(words[at].split('=')[1] ?? words[at + 1]);
  const answer = await fetch(`http://127.0.0.1:${port}/healthz`, { signal: AbortSignal.timeout(4000) }).catch(
    () => null,
  );
  process.exitCode = answer?.ok ? 0 : 1;
}
