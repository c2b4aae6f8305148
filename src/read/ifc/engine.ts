/** The engine with one shape of the model at hand: most models have none that needs it, and no other needs all of the model open. */

import { IFCPROJECT, type IfcAPI } from 'web-ifc';
import type { StepText } from './step.js';

/** The engine broke down on what it was given. It must not be used again where it was aborted. */
export class EngineFault extends Error {}

/** A WebAssembly module that has aborted or run out of memory is in an undefined state. */
export const isFatal = (error: unknown): boolean =>
  (error instanceof Error && error.name === 'RuntimeError') ||
  (error instanceof RangeError && /stack/i.test(error.message)) ||
  /abort|out of memory|memory access|unreachable/i.test(String(error));

export class EngineModel {
  /** What every cut needs: the project with its units, by which the engine takes angles. */
  private readonly frame: readonly number[];

  constructor(
    readonly engine: IfcAPI,
    private readonly text: StepText,
  ) {
    this.frame = text.ofType(IFCPROJECT, true);
  }

  /** Opens a model of this instance and what it is made of, lets it be used and closes it. Null where the engine cannot open it, or use it. */
  with<T>(item: number, use: (model: number) => T): T | null {
    let model = -1;
    try {
      model = this.engine.OpenModel(this.text.cutOut([...this.frame, item]));
      return model < 0 ? null : use(model);
    } catch (error) {
      if (isFatal(error)) {
        model = -1;
        throw new EngineFault(String(error));
      }
      return null;
    } finally {
      if (model >= 0) this.engine.CloseModel(model);
    }
  }
}
