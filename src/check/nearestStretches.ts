/** Of supports in a row, the stretch that each answers for: half-way to its neighbours, to the two ends whole. */
export const nearestStretches = (at: readonly number[], from: number, to: number): (readonly [number, number])[] =>
  at.map((x, i) => [i === 0 ? from : (at[i - 1]! + x) / 2, i === at.length - 1 ? to : (x + at[i + 1]!) / 2] as const);
