/** Joints at the edges of openings: had where they cost nothing, alike in mirrored walls, and told by the check from the pieces alone. */

import { describe, expect, it } from 'vitest';
import { check } from '../../src/check/index.js';
import type { FacePlan } from '../../src/ground/vocabulary.js';
import { sceneOf } from '../check/support.js';
import { corner, onePlan } from '../support/straightPlan.js';

const [THICK, TOP, BOARDS] = [200, 2350, 50];

type Window = readonly [lengthMm: number, fromMm: number, toMm: number, sillMm: number, headMm: number];

const scene = ([lengthMm, fromMm, toMm, sillMm, headMm]: Window) => {
  const bare = onePlan(lengthMm, THICK, TOP, corner(0, THICK, 'start'), corner(lengthMm, THICK, 'end'));
  const plan: FacePlan = { ...bare, openings: [{ id: 'O1', wall: 'W1', fromMm, toMm, sillMm, headMm }] };
  return sceneOf(plan);
};

const mirrored = ([l, from, to, sill, head]: Window): Window => [l, l - to, l - from, sill, head];

/** Joints of the left face. */
const jointsOf = ({ layout }: ReturnType<typeof scene>): number[] =>
  [...new Set(layout.groups.filter((g) => g.face === 'W1-L').flatMap((g) => [g.fromMm, g.toMm]))].sort((a, b) => a - b);

/** Of the jambs: how far the nearest joint is; and the units over the opening. */
const told = (s: ReturnType<typeof scene>, [, fromMm, toMm]: Window) => {
  const joints = jointsOf(s);
  const away = [fromMm, toMm].map((jamb) => Math.min(...joints.map((j) => Math.abs(j - jamb))));
  return {
    none: away.filter((d) => d > BOARDS).length,
    beside: away.filter((d) => d > 1 && d <= BOARDS).length,
    over: joints.filter((j, i) => i > 0 && Math.min(j, toMm) - Math.max(joints[i - 1]!, fromMm) > 1).length,
  };
};

const tiers = ({ layout }: ReturnType<typeof scene>) => layout.tiers.map((t) => t.value);

/**
 * Each with joints that a hand finds by moving the odd panels of a zone from 250 to 5750, ten units: 600 600 300 reach 1750, from where 600 and 600 reach
 * 2950, 600 and 500 reach 2850.
 */
const windows: [Window, ReturnType<typeof told>][] = [
  [[6000, 1800, 2800, 1000, 1600], { none: 0, beside: 2, over: 2 }],
  [[6000, 1750, 2950, 1000, 1600], { none: 0, beside: 0, over: 2 }],
];

const held = new Map<string, ReturnType<typeof scene>>();

const laid = (window: Window) => {
  const key = window.join(' ');
  const made = held.get(key) ?? scene(window);
  held.set(key, made);
  return made;
};

describe('joints at the jambs', () => {
  it.each(windows)('stand where they cost nothing, in the mirrored wall too: %j', (window, wanted) => {
    const [one, other] = [laid(window), laid(mirrored(window))];
    expect(told(one, window)).toEqual(wanted);
    expect(told(other, mirrored(window))).toEqual(wanted);
    expect(tiers(other)).toEqual(tiers(one));
    // Units and ties are proven as few as they are without that wish.
    for (const { layout } of [one, other]) expect(layout.tiers.slice(0, 7).every((t) => t.optimal)).toBe(true);
  });

  it('are told by the check, with the units that run across', () => {
    const s = laid(windows[1]![0]);
    const boxOut = (toMm: number) => {
      const plan = { ...s.plan, openings: s.plan.openings.map((o) => ({ ...o, toMm })) };
      return check({ ...s, plan }).findings.find((f) => f.code === 'check.box-out')!.message;
    };
    expect(boxOut(2950)).toContain('Joints of the forms stand at its jambs at station 1750 and 2950.');
    // The opening is held against the same forms, but 130 longer: the units from 2950 on run across it.
    const across = s.layout.pieces.filter((p) => p.covers.some((c) => c.fromMm === 2950));
    const [a, b] = across.map((p) => p.id);
    expect(across.length).toBe(2);
    expect(boxOut(3080)).toContain(
      `Joints of the forms stand at its jamb at station 1750; ${a} and ${b} run across its jamb at station 3080, 130 mm from a joint.`,
    );
  });
});
