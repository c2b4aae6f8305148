#!/usr/bin/env node
/** Entry of the command line. */

import { run } from './program.js';

// A log or a list of results that nobody takes any more, or that finds no room on its disk, ends no work.
for (const stream of [process.stdout, process.stderr]) stream.on('error', () => undefined);

process.exitCode = await run(process.argv.slice(2));
