/** What comes in and how the files that go out are called: the same for a layout and for a trace. */

import { demoCatalogue, demoInchCatalogue, loadCatalogue } from '../catalogue/index.js';
import type { Programs } from '../fit/index.js';
import { finding, type Refusable } from '../ground/findings.js';
import type { LengthUnit } from '../ground/units.js';
import type { Catalogue, Model, Result } from '../ground/vocabulary.js';
import type { Job } from './options.js';

/** Reads a model from the bytes of its file, with an engine that was loaded before. */
export type ReadModel = (bytes: Uint8Array) => Refusable<Model>;

/** Sets the report on paper. */
export type WritePdf = (result: Result) => Uint8Array;
/** An SVG as PNG. */
export type Paint = (svg: string) => Uint8Array;

export interface LayOutInput {
  /** Name of the drawing without folders. */
  readonly fileName: string;
  readonly bytes: Uint8Array;
  /** Of the bytes, lower-case hex. */
  readonly sha256: string;
  readonly job: Job;
  /** The job as its file has it, where the caller changed it for this run: what a proposed job file keeps. */
  readonly jobAsGiven?: Job;
  /** What the catalogue file that the job names holds, parsed; not given: one of our own yards. */
  readonly catalogue?: unknown;
  /** What the stock file that the job names holds, parsed. */
  readonly stock?: unknown;
  /** Text of the file of measured levels that the job names. */
  readonly survey?: string;
  /** Made by `engineFor` before; needed for IFC files alone. */
  readonly readModel?: ReadModel;
  /** Made by `programsFor` before; needed where the stock is limited. */
  readonly programs?: Programs;
  /** Made by `printerFor` before; without it no PDF is written. */
  readonly writePdf?: WritePdf;
  /** Made by `painterFor` before; needed where the job asks for pictures as PNG. */
  readonly paint?: Paint;
}

export interface OutFile {
  /** Name without folders: the drawing's own, less its extension, and what the file is. */
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** The stages in their order, as progress names them. */
export const STAGES = ['read', 'trace', 'shape', 'fit', 'check', 'schedule', 'write'] as const;
export type StageName = (typeof STAGES)[number];
/** Those of a trace. */
export const TRACE_STAGES: readonly StageName[] = ['read', 'trace', 'shape', 'write'];
export type OnProgress = (stage: StageName) => void;

/** 'plan' of 'plan.dxf'. */
export const stemOf = (fileName: string): string => fileName.replace(/\.[^.]*$/, '') || fileName;

/** Names of all files that a drawing's layout may write, but for pictures. */
export const outNames = (fileName: string) => {
  const stem = stemOf(fileName);
  return {
    forms: `${stem}.forms.dxf`,
    layout: `${stem}.layout.json`,
    schedule: `${stem}.schedule.csv`,
    workbook: `${stem}.schedule.xlsx`,
    report: `${stem}.report.html`,
    paper: `${stem}.report.pdf`,
    model: `${stem}.forms.ifc`,
    topics: `${stem}.findings.bcf`,
  };
};

/** Name of a picture of a drawing's layout. */
export const pictureName = (fileName: string, picture: string, ending: 'svg' | 'png'): string =>
  `${stemOf(fileName)}.${picture}.${ending}`;

/** Names of all files that a drawing's trace may write. */
export const traceNames = (fileName: string) => {
  const stem = stemOf(fileName);
  return {
    drawing: `${stem}.trace.dxf`,
    facts: `${stem}.trace.json`,
    proposal: `${stem}.job.proposed.yaml`,
  };
};

/** The catalogue of the job; ours in inches where the drawing is in inches or feet. */
export const catalogueOf = (input: LayOutInput, unit: LengthUnit): Refusable<Catalogue> => {
  const named = input.job.catalogue;
  if (input.catalogue !== undefined) return loadCatalogue(input.catalogue);
  if (named === 'demo') return { ok: true, value: demoCatalogue, findings: [] };
  if (named === 'demo-inch') return { ok: true, value: demoInchCatalogue, findings: [] };
  if (named !== undefined) throw new Error(`the caller read no catalogue for '${named}'`);
  const inches = unit === 'in' || unit === 'ft';
  const message = inches
    ? `No catalogue was named; the drawing is in ${unit}, so the demonstration yard in inches was used.`
    : 'No catalogue was named; the demonstration yard was used.';
  const assumed = inches ? 'catalogue: demo-inch' : 'catalogue: demo';
  const findings = [finding('pipeline.catalogue-defaulted', message, { subject: 'catalogue', assumed })];
  return { ok: true, value: inches ? demoInchCatalogue : demoCatalogue, findings };
};
