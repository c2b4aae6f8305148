/** Small dense systems of equations. */

/**
 * Solves A x = b by Gaussian elimination with partial pivoting; null when A is singular: when a pivot is below `singular` times the largest
 * entry of A. A is given by rows and is not changed.
 */
export const solveDense = (
  a: readonly (readonly number[])[],
  b: readonly number[],
  singular = 1e-12,
): number[] | null => {
  const n = b.length;
  const m = a.map((row, i) => [...row, b[i]!]);
  const largest = Math.max(0, ...m.map((row) => Math.max(0, ...row.slice(0, n).map(Math.abs))));
  for (let i = 0; i < n; i++) {
    let p = i;
    for (let r = i + 1; r < n; r++) if (Math.abs(m[r]![i]!) > Math.abs(m[p]![i]!)) p = r;
    if (!(Math.abs(m[p]![i]!) > singular * largest)) return null;
    [m[i], m[p]] = [m[p]!, m[i]!];
    const pivot = m[i]!;
    for (let r = i + 1; r < n; r++) {
      const row = m[r]!;
      const f = row[i]! / pivot[i]!;
      if (f === 0) continue;
      for (let c = i; c <= n; c++) row[c] = row[c]! - f * pivot[c]!;
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let i = n - 1; i >= 0; i--) {
    let sum = m[i]![n]!;
    for (let c = i + 1; c < n; c++) sum -= m[i]![c]! * x[c]!;
    x[i] = sum / m[i]![i]!;
  }
  return x;
};
