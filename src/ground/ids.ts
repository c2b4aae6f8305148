/** Ids that are the same whenever the input is: a letter and a number in sorted order. */

/** 'W1', 'W2' …: `index` counts from 0. */
export const nthId = (prefix: string, index: number): string => `${prefix}${index + 1}`;
