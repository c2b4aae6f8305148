/** The commands, their options and their help. */

import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Command, CommanderError, InvalidArgumentError, Option } from 'commander';
import { EXIT, type ExitCode, faultText, Refusal } from '../jobs/refusal.js';
import type { LayoutOptions } from './layoutCommand.js';
import type { ServeCommandOptions } from './serveCommand.js';
import type { WatchCommandOptions } from './watchCommand.js';
import type { WorkCommandOptions } from './workCommand.js';

const SAMPLE = fileURLToPath(new URL('../../fixtures/01-corner-house/corner-house.dxf', import.meta.url));

/** The version in package.json. */
const version = (): string =>
  (JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')) as { version: string }).version;

/** Loaded when a command needs it, so that help and slips of the pen are answered at once. */
const layouts = () => import('./layoutCommand.js');

const AFTER_HELP = `
Start here:
  shutterwright demo                        a sample house, laid out into ./out/demo
  shutterwright layout plan.dxf --trace-only   what was read of your drawing, to be confirmed, into ./out
  shutterwright layout plan.dxf             your drawing, laid out into ./out
  shutterwright layout plan.dxf --job my.yaml --out forms
  shutterwright layout house.ifc            your model: the forms as drawing and as model to lay over it
  shutterwright watch forms                 every drawing that is dropped into ./forms/drop-here
  shutterwright serve                       a page and an HTTP service on this machine

Beside plan.dxf the program looks for plan.job.yaml: levels, rate of rise, your catalogue of gear.
It writes plan.forms.dxf (your drawing with the forms in it), plan.report.html and .pdf,
plan.schedule.xlsx and .csv, plan.layout.json; with --pictures also plan.plan.svg, plan.elevation-W1-L.svg … or .png;
of a model (.ifc, .ifczip), or with --ifc, also plan.forms.ifc and plan.findings.bcf;
with --trace-only plan.trace.dxf, plan.trace.json and plan.job.proposed.yaml, and never a file of yours.

Exit codes: 0 laid out; 1 laid out, with failures that the result names; 2 refused; 3 a fault of the program.
The layout is an aid to a competent person and replaces no design, check or inspection.`;

const positiveNumber = (text: string): number => {
  const value = Number(text);
  if (!Number.isFinite(value) || value <= 0) throw new InvalidArgumentError('It must be a number above 0.');
  return value;
};

const positiveInteger = (text: string): number => {
  const value = positiveNumber(text);
  if (!Number.isInteger(value)) throw new InvalidArgumentError('It must be a whole number above 0.');
  return value;
};

const wholeNumber = (text: string): number => {
  if (!/^\d{1,9}$/.test(text)) throw new InvalidArgumentError('It must be a whole number, 0 or more.');
  return Number(text);
};

const portNumber = (text: string): number => {
  const value = wholeNumber(text);
  if (value > 65_535) throw new InvalidArgumentError('It must be a port, 0 to 65535.');
  return value;
};

/** Of waiting; the system's timers count to 2^31 ms, and would take more as no time at all. */
const SECONDS_MOST = 1_000_000;

const seconds = (text: string): number => {
  const value = positiveNumber(text);
  if (value > SECONDS_MOST) throw new InvalidArgumentError(`It must be at most ${SECONDS_MOST} s.`);
  return value;
};

const collected = (text: string, before: readonly string[]): string[] => [...before, text];

/** Runs a command line (without node and script) and returns its exit code; nothing but results goes to stdout. */
export const run = async (argv: readonly string[]): Promise<ExitCode> => {
  let code: ExitCode = EXIT.laidOut;
  const program = new Command('shutterwright')
    .description(
      'Lays out modular wall forms on a foundation: drawing (DXF) or model (IFC) in; formed drawing and model, lists and checks out.',
    )
    .version(version(), '-V, --version', 'print the version')
    .helpOption('-h, --help', 'print this help')
    .helpCommand(false)
    .addHelpText('after', AFTER_HELP)
    .exitOverride();

  program
    .command('layout')
    .description('lay out the forms of one or more drawings or models')
    .argument('<drawing...>', 'DXF drawings, IFC models')
    .option('--job <file>', 'job file (YAML or JSON); else the one beside the drawing, else defaults')
    .option('--catalogue <file>', 'catalogue of gear (YAML or JSON), or demo, or demo-inch')
    .option('--out <folder>', 'folder for the results', 'out')
    .addOption(
      new Option('--mode <mode>', 'merged: into your drawing; overlay: ours alone').choices(['merged', 'overlay']),
    )
    .option('--ifc', 'write the forms as a model (IFC4) and the findings as BCF topics for a drawing too')
    .addOption(
      new Option('--pictures <kind>', 'write plan and elevations as files of their own').choices([
        'none',
        'svg',
        'png',
      ]),
    )
    .option(
      '--compare-pitch <mm>',
      'tell what the timber would be if the flange holes stood at this pitch',
      positiveNumber,
    )
    .option('--compare-items', 'tell which one width or leg more would help the plan most')
    .option('--trace-only', 'only show what was read of the drawing, with the questions to answer before any fitting')
    .option('--json', 'print what became of each drawing as JSON')
    .option('--time-limit <s>', 'end a drawing that takes longer, in seconds', seconds)
    .option('--memory-limit <mb>', 'end a drawing that needs more memory, in MB', positiveNumber)
    .action(async (drawings: string[], options: LayoutOptions) => {
      code = await (await layouts()).layoutCommand(drawings, options);
    });

  program
    .command('watch')
    .description('lay out every drawing that is dropped into a folder, until it is ended')
    .argument(
      '<folder>',
      'made where it is not there: drop into drop-here, results come into laid-out and not-laid-out',
    )
    .option('--job <file>', 'job file for drawings that have none beside them')
    .option('--catalogue <file>', 'catalogue of gear (YAML or JSON), or demo, or demo-inch')
    .addOption(
      new Option('--mode <mode>', 'merged: into your drawing; overlay: ours alone').choices(['merged', 'overlay']),
    )
    .option('--ifc', 'write the forms as a model (IFC4) and the findings as BCF topics for drawings too')
    .addOption(
      new Option('--pictures <kind>', 'write plan and elevations as files of their own').choices([
        'none',
        'svg',
        'png',
      ]),
    )
    .option('--workers <n>', 'drawings at a time', positiveInteger, 1)
    .option('--settle <s>', 'how long a file must not have changed before it is taken, in seconds', seconds, 5)
    .option('--poll <s>', 'how often to look, in seconds, where the system tells of no changes', seconds, 2)
    .option('--keep-days <n>', 'how long results are kept for the same drawing to be dropped again', positiveNumber, 14)
    .option('--data <folder>', 'where jobs are kept, the same for all programs that share the work; else in the folder')
    .option('--once', 'lay out what lies in the folder, and end')
    .option('--time-limit <s>', 'end a drawing that takes longer, in seconds', seconds)
    .option('--memory-limit <mb>', 'end a drawing that needs more memory, in MB', positiveNumber)
    .action(async (folder: string, options: WatchCommandOptions) => {
      code = await (await import('./watchCommand.js')).watchCommand(folder, options, version());
    });

  program
    .command('work')
    .description('work off jobs that other programs bring: those on one database (DATABASE_URL), or beside this one')
    .option('--data <folder>', 'where jobs are kept, as of the program that brings them', 'shutterwright-data')
    .option('--workers <n>', 'drawings at a time', positiveInteger, 1)
    .option('--grace <s>', 'how long running jobs may go on when it is ended, in seconds', seconds, 10)
    .option('--time-limit <s>', 'end a drawing that takes longer, in seconds', seconds)
    .option('--memory-limit <mb>', 'end a drawing that needs more memory, in MB', positiveNumber)
    .action(async (options: WorkCommandOptions) => {
      code = await (await import('./workCommand.js')).workCommand(options, version());
    });

  program
    .command('serve')
    .description('an HTTP service with a page for people, until it is ended')
    .option('--port <n>', 'port to listen at; 0: any free one', portNumber, 8080)
    .option('--host <address>', 'address to bind; other machines can call only with --keys', '127.0.0.1')
    .option('--data <folder>', 'where jobs are kept; made where it is not there', 'shutterwright-data')
    .option('--workers <n>', 'jobs at a time; 0: others work them off (see work)', wholeNumber, 1)
    .option('--keys <file>', 'file of keys, one of which every caller must have')
    .option('--new-key <name>', 'print a new key and its line for that file, and end')
    .option('--allow-host <name>', 'a name by which callers may reach the service; may be repeated', collected, [])
    .option('--proxies <n>', 'proxies before the service whose word on the caller’s address is taken', wholeNumber, 0)
    .option('--keep-days <n>', 'forget jobs that ended longer ago', positiveNumber, 14)
    .option('--request-timeout <s>', 'cut a request, upload included, that takes longer', seconds, 120)
    .option('--grace <s>', 'how long running jobs may go on when the service is ended', seconds, 10)
    .option('--requests-per-minute <n>', 'of one key or address', positiveInteger, 600)
    .option('--jobs-per-minute <n>', 'that one key or address may bring', positiveInteger, 60)
    .option('--queue <n>', 'jobs that may wait; more are turned away', positiveInteger, 200)
    .option('--log-names', 'log the names of drawings')
    .option('--file-limit <mb>', 'refuse a drawing that is larger, in MB', positiveNumber)
    .option('--time-limit <s>', 'end a drawing that takes longer, in seconds', seconds)
    .option('--memory-limit <mb>', 'end a drawing that needs more memory, in MB', positiveNumber)
    .action(async (options: ServeCommandOptions) => {
      code = await (await import('./serveCommand.js')).serveCommand(options, version());
    });

  program
    .command('gear')
    .description('print and check a catalogue of gear')
    .argument('[file]', 'catalogue (YAML or JSON), demo or demo-inch', 'demo')
    .action(async (file: string) => {
      code = await (await import('./gearCommand.js')).gearCommand(file);
    });

  program
    .command('demo')
    .description('lay out the sample house into ./out/demo')
    .action(async () => {
      code = await (await layouts()).layoutCommand([SAMPLE], { out: 'out/demo' });
      process.stdout.write('Open the .report.html in a browser and the .forms.dxf in any CAD program.\n');
    });

  try {
    await program.parseAsync([...argv], { from: 'user' });
    return code;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.laidOut : EXIT.refused;
    if (error instanceof Refusal) {
      process.stderr.write(`${error.message}\n`);
      return EXIT.refused;
    }
    process.stderr.write(faultText('shutterwright', error));
    return EXIT.fault;
  }
};
