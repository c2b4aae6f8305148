/** Questions that several tests ask of a shaped plan. */

import type { shape } from '../../src/shape/index.js';

export const GRID = { gridMm: 1 };
export type Shaped = ReturnType<typeof shape>;
export const codes = (r: Shaped): string[] => r.findings.map((f) => f.code);
export const only = (r: Shaped, code: string) => r.findings.filter((f) => f.code === code);
export const kinds = (r: Shaped): string[] => r.value.nodes.map((n) => n.kind).sort();
