/** Inches to a sixteenth, as they are read off a tape: the grid of inch gear. */

import { MM_PER } from './units.js';

const SIXTEENTHS = 16;

/** '6 1/2', '7/16', '-4': whole inches and a fraction in lowest terms, without the unit. */
export const inchText = (valueMm: number): string => {
  const sixteenths = Math.round((Math.abs(valueMm) / MM_PER.in) * SIXTEENTHS);
  const whole = Math.floor(sixteenths / SIXTEENTHS);
  let top = sixteenths % SIXTEENTHS;
  let under = SIXTEENTHS;
  while (top > 0 && top % 2 === 0) {
    top /= 2;
    under /= 2;
  }
  const sign = valueMm < 0 && sixteenths > 0 ? '-' : '';
  if (top === 0) return `${sign}${whole}`;
  return whole === 0 ? `${sign}${top}/${under}` : `${sign}${whole} ${top}/${under}`;
};
