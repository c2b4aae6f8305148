/** The engine with the model at hand: opened when it is first asked for a shape, since most models never need it. */

import type { IfcAPI } from 'web-ifc';

/** The engine broke down on what it was given. It must not be used again where it was aborted. */
export class EngineFault extends Error {}

/** A WebAssembly module that has aborted or run out of memory is in an undefined state. */
export const isFatal = (error: unknown): boolean =>
  (error instanceof Error && error.name === 'RuntimeError') ||
  (error instanceof RangeError && /stack/i.test(error.message)) ||
  /abort|out of memory|memory access|unreachable/i.test(String(error));

export class EngineModel {
  /** Null: not opened yet; negative: cannot be opened. */
  private model: number | null = null;

  constructor(
    readonly engine: IfcAPI,
    private readonly bytes: Uint8Array,
  ) {}

  /** The engine's number of the open model, or null where it cannot open it. */
  open(): number | null {
    this.model ??= this.opened();
    return this.model < 0 ? null : this.model;
  }

  private opened(): number {
    try {
      return this.engine.OpenModel(this.bytes);
    } catch (error) {
      if (isFatal(error)) throw new EngineFault(String(error));
      return -1;
    }
  }

  close(): void {
    if (this.model !== null && this.model >= 0) this.engine.CloseModel(this.model);
    this.model = null;
  }
}
