/**
 * Forces of a brace, characteristic. The form stands on its foot and hangs on the brace's head: moments about the foot give what the head takes, the
 * rest is shear at the foot. Statics of a rigid body; published form in A. Hanna, Concrete Formwork Systems, p. 191.
 */

export interface BraceLoad {
  /** Line load at the top of the form, kN/m, and wind over its height, kPa. */
  readonly lineKnPerM: number;
  readonly windKpa: number;
  /** Of a loaded platform, kNm per m. */
  readonly platformKnmPerM: number;
  /** From the ground to the top of the form, and to the head of the brace, m. */
  readonly heightM: number;
  readonly headM: number;
  /** From the head to the foot on the level, m. */
  readonly runM: number;
  /** Width of form that the brace holds, m. */
  readonly widthM: number;
  /** Weight of the form, kN per m. */
  readonly weightKnPerM: number;
}

export interface BraceForces {
  /** Level, at the head, kN: of the case that governs. */
  readonly headKn: number;
  readonly governs: 'line' | 'wind';
  readonly axialKn: number;
  /** Upward on the form when the brace is pushed, downward when it is pulled; on the foot the other way. */
  readonly verticalKn: number;
  readonly holdDownKn: number;
  /** At the foot of the form; negative: against the load. */
  readonly baseLineKn: number;
  readonly baseWindKn: number;
}

/** Moment of an evenly loaded platform about the face of the form, kNm per m: load, width of its floor, and its gap from the face. */
export const platformMoment = (kpa: number, widthM: number, gapM: number): number => kpa * widthM * (widthM / 2 + gapM);

/** A form's own weight counts by this share against being lifted. Common practice, no source. */
const WEIGHT_SHARE = 0.9;

export const braceForces = (load: BraceLoad): BraceForces => {
  const { lineKnPerM, windKpa, platformKnmPerM, heightM, headM, runM, widthM, weightKnPerM } = load;
  const platform = platformKnmPerM / headM;
  const line = (lineKnPerM * heightM) / headM;
  const wind = (windKpa * heightM ** 2) / 2 / headM;
  const governs = wind > line ? 'wind' : 'line';
  const headKn = (Math.max(line, wind) + platform) * widthM;
  const verticalKn = (headKn * headM) / runM;
  return {
    headKn,
    governs,
    axialKn: (headKn * Math.hypot(headM, runM)) / runM,
    verticalKn,
    holdDownKn: Math.max(0, verticalKn - WEIGHT_SHARE * weightKnPerM * widthM),
    baseLineKn: (lineKnPerM - line - platform) * widthM,
    baseWindKn: (windKpa * heightM - wind - platform) * widthM,
  };
};
