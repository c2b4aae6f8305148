/** The trial of planted faults: every one is a failure, and the layouts that they are planted in have none. */

import { describe, expect, it } from 'vitest';
import { check } from '../../src/check/index.js';
import { GOOD, PLANTED_FAULTS } from '../support/plantedFaults.js';

describe('planted faults', () => {
  it.each(Object.entries(GOOD))('are planted in a layout without failures: %s', (_name, scene) => {
    expect(check(scene()).findings.filter((f) => f.severity === 'failure')).toEqual([]);
  });

  it('are at least 60, each of its own', () => {
    expect(PLANTED_FAULTS.length).toBeGreaterThanOrEqual(60);
    expect(new Set(PLANTED_FAULTS.map((f) => f.what)).size).toBe(PLANTED_FAULTS.length);
  });

  it.each(PLANTED_FAULTS.map((f) => [`${f.kind}: ${f.what}`, f] as const))('%s', (_name, fault) => {
    expect(fault.failures()).not.toEqual([]);
  });
});
