/** The parts of a foundation that a test of plain straight walls has no need of. */
export const NOTHING_ELSE = { curves: [], openings: [], steps: [], pilasters: [], bars: [], views: [] } as const;
