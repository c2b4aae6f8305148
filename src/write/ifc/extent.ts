/** Half-way between the least and the largest of some numbers; 0 where there are none. */
export const middle = (values: readonly number[]): number =>
  values.length === 0 ? 0 : (Math.min(...values) + Math.max(...values)) / 2;
