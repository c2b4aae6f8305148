/** Ids: our own, which are the same whenever the input is, and those of models. */

/** 'W1', 'W2' …, a letter and a number in sorted order: `index` counts from 0. */
export const nthId = (prefix: string, index: number): string => `${prefix}${index + 1}`;

const GLOBAL_ID = /^[0-3][0-9A-Za-z_$]{21}$/;

/** Whether a text is a GlobalId: 22 characters of IFC's own base 64, of which the first holds two bits. Source: IFC4, IfcGloballyUniqueId. */
export const isGlobalId = (text: string): boolean => GLOBAL_ID.test(text);
