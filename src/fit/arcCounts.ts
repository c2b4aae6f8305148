/** Numbers of forms of each width for a curved wall, in the order in which they are tried. */

/** More sets of widths than this for one number of forms are not all tried: then two widths at most stand on one curve. */
const SETS_MOST = 60_000;

/** How many ways there are to take n things of k kinds; Infinity beyond counting. */
const setsOf = (n: number, k: number): number => {
  let ways = 1;
  for (let i = 1; i < k; i++) ways = (ways * (n + i)) / i;
  return ways;
};

/** Every way to part n among k kinds. */
function* all(n: number, k: number): Generator<readonly number[]> {
  if (k === 1) {
    yield [n];
    return;
  }
  for (let first = n; first >= 0; first--) for (const rest of all(n - first, k - 1)) yield [first, ...rest];
}

/** Ways with at most two kinds. */
function* pairs(n: number, k: number): Generator<readonly number[]> {
  const counts = (a: number, b: number, ofA: number) =>
    Array.from({ length: k }, (_, i) => (i === a ? ofA : 0) + (i === b ? n - ofA : 0));
  for (let a = 0; a < k; a++) {
    yield counts(a, a, n);
    for (let b = a + 1; b < k; b++) for (let ofA = n - 1; ofA > 0; ofA--) yield counts(a, b, ofA);
  }
}

/** The sets of n forms of k widths, and whether they are all of them. */
export const formCounts = (
  n: number,
  k: number,
): { readonly sets: Iterable<readonly number[]>; readonly isAll: boolean } => {
  const isAll = setsOf(n, k) <= SETS_MOST;
  return { sets: isAll ? all(n, k) : pairs(n, k), isAll };
};
