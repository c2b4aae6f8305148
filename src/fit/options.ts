/** Settings of the fit, each with a stated default. Lengths in mm. */

/** The tiers of the cost whose order is a setting; failures come before them always. */
export type OrderedTier = 'places' | 'timberAreaM2' | 'steelFillers' | 'tiesAndUnits' | 'runPast';

export interface FitOptions {
  /** Room that a bulkhead needs beyond the concrete's end: its own thickness. Common practice, no source. */
  readonly bulkheadMm: number;
  /** Room to fix the bulkhead behind it: the least run past is bulkhead + this (rule T6). */
  readonly bulkheadRoomMm: number;
  readonly runPastMostMm: number;
  /** No tie nearer than this to an edge of the concrete (rule T22). Common practice, no source. */
  readonly edgeClearMm: number;
  /** Least height of the forms above the pour line (rule T8). */
  readonly stickUpLeastMm: number;
  /** Room under the forms for a bed of mortar; their bases stand at least this above the footing (rule T9). */
  readonly bedMm: number;
  /** Tie rows keep this below the pour line and above the footing (rule T10). Common practice, no source. */
  readonly rowClearMm: number;
  /** How far a form on a curved wall may leave the arc of its face (the versine of its chord). Common practice, no source. */
  readonly chordMostMm: number;
  /** One panel that comes out alone at every low stretch of the footing (rule T16), whatever it costs. */
  readonly cleanOuts: boolean;
  /** Least width of the strips that let closed rooms go (rule T17); null: none are laid out. */
  readonly stripMm: number | null;
  /** Widths are given up where that costs nothing. Takes as long as all the rest; layouts that are only compared do without. */
  readonly fewestKinds: boolean;
  /** Order in which costs are compared, after failures (docs/reference/rules.md). */
  readonly costOrder: readonly OrderedTier[];
  /** Search steps (labels) for one stretch before the best so far is taken and its gap stated. */
  readonly stepLimit: number;
}

export const DEFAULT_FIT_OPTIONS: FitOptions = {
  bulkheadMm: 50,
  bulkheadRoomMm: 50,
  runPastMostMm: 600,
  edgeClearMm: 75,
  stickUpLeastMm: 0,
  bedMm: 0,
  rowClearMm: 50,
  chordMostMm: 10,
  cleanOuts: false,
  stripMm: null,
  fewestKinds: true,
  costOrder: ['places', 'timberAreaM2', 'steelFillers', 'tiesAndUnits', 'runPast'],
  stepLimit: 25_000,
};
