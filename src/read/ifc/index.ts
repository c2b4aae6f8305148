/** IFC to Model: bytes of a file (.ifc or .ifczip) to solids, storeys and bars in world axes, mm. */

import { IfcAPI, LogLevel } from 'web-ifc';
import { type Finding, finding, type Refusable } from '../../ground/findings.js';
import type { Model } from '../../ground/vocabulary.js';
import { unpacked } from './container.js';
import { doubtsAbout, refusalOf } from './doubts.js';
import { EngineFault, EngineModel, isFatal } from './engine.js';
import { Lines } from './lines.js';
import { ModelLog } from './log.js';
import { readModel } from './model.js';
import { type StepText, scanStep } from './step.js';

export type IfcEngine = IfcAPI;

let loading: Promise<IfcEngine> | null = null;
/** Engines that broke down and are in an unknown state. */
const broken = new WeakSet<IfcEngine>();

const load = async (): Promise<IfcEngine> => {
  const engine = new IfcAPI();
  await engine.Init(undefined, true);
  engine.SetLogLevel(LogLevel.LOG_LEVEL_OFF);
  return engine;
};

/** The engine of this thread: loaded once, and anew after one that broke down. */
export const loadIfcEngine = async (): Promise<IfcEngine> => {
  loading ??= load();
  const engine = await loading;
  if (!broken.has(engine)) return engine;
  loading = null;
  return loadIfcEngine();
};

const refuse = (message: string, before: readonly Finding[] = []): Refusable<Model> => ({
  ok: false,
  findings: [...before, finding('read.model-refused', message)],
});

/** Reads a model. Input never throws; what is opened in the engine is closed whatever happens. */
export const readIfc = (bytes: Uint8Array, engine: IfcEngine): Refusable<Model> => {
  const inner = unpacked(bytes);
  if (!inner.ok) {
    return inner.tooMuch
      ? { ok: false, findings: [finding('read.too-much', `${inner.why}.`)] }
      : refuse(`${inner.why}.`);
  }
  const text = scanStep(inner.bytes);
  const refusal = refusalOf(text);
  if (refusal !== null) return { ok: false, findings: [refusal] };
  const log = new ModelLog();
  doubtsAbout(text as StepText, inner.bytes, log);
  if (broken.has(engine)) return refuse('The engine that reads models broke down on an earlier file; start again.');
  return opened(text as StepText, engine, log);
};

const opened = (text: StepText, engine: IfcEngine, log: ModelLog): Refusable<Model> => {
  const model = new EngineModel(engine, text);
  try {
    const value = readModel(new Lines(engine, text, log), model, text, log);
    return { ok: true, value, findings: log.findings() };
  } catch (error) {
    if (!(error instanceof EngineFault) && !isFatal(error)) throw error;
    broken.add(engine);
    return refuse(
      'The model is damaged in a way that stops its reading; save it again from the program that made it.',
      log.findings(),
    );
  }
};
