/** What a pressure method takes. The types are discriminated by `method`. */

/** How the concrete is placed: what the ACI formulas presuppose. Left out: as presupposed. */
export interface Placing {
  /** mm; null: not given, taken to be within the formula's range, which is said. */
  readonly slumpMm: number | null;
  /** Depth of internal vibration below the surface, mm. */
  readonly vibrationDepthMm?: number;
  readonly externalVibration?: boolean;
  readonly selfCompacting?: boolean;
  readonly expansiveCement?: boolean;
  /** Pumped into the form from its base. */
  readonly pumpedFromBase?: boolean;
}

export interface AciSiInputs extends Placing {
  readonly method: 'aci-347-si';
  readonly rateMPerH: number;
  readonly temperatureC: number;
  readonly densityKgPerM3: number;
  /** Cc: 1.0, 1.2 or 1.4 by cement and retarder. */
  readonly chemistryCoefficient: number;
}

export interface AciUsInputs extends Placing {
  readonly method: 'aci-347-us';
  readonly rateFtPerH: number;
  readonly temperatureF: number;
  readonly densityPcf: number;
  readonly chemistryCoefficient: number;
}

export interface HydrostaticInputs {
  readonly method: 'hydrostatic';
  readonly densityKgPerM3: number;
  /** Not used by the method; recorded. */
  readonly rateMPerH: number;
  readonly temperatureC: number;
}

/** Methods that the job file knows and that are not built in: refused by a failure, full fluid pressure in their place. */
export interface LaterInputs {
  readonly method: 'din-18218' | 'ciria-108';
  readonly densityKgPerM3: number;
  readonly rateMPerH: number;
  readonly temperatureC: number;
}

export type ConcreteInputs = AciSiInputs | AciUsInputs | HydrostaticInputs | LaterInputs;
