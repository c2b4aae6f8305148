/**
 * The job file's `concrete`: what a person says of the concrete, in the terms of a pressure method. Ranges keep out values of another unit: no usual
 * temperature in degrees C is one in degrees F, no density in kg/m3 one in lb/ft3 or t/m3.
 */

import { z } from 'zod';

const positive = z.number().positive();

/** A number in a range; a refusal names the range, the key and the value. */
const within = (least: number, most: number, unit: string) => {
  const message = `must lie between ${least} and ${most} ${unit}`;
  return z.number(message).min(least, message).max(most, message);
};

const SI_KEYS = ['rateMPerH', 'temperatureC', 'densityKgPerM3', 'supplyM3PerH'] as const;
const US_KEYS = ['rateFtPerH', 'temperatureF', 'densityPcf', 'supplyYd3PerH'] as const;

const shape = z.strictObject({
  method: z.enum(['aci-347-si', 'aci-347-us', 'din-18218', 'ciria-108', 'hydrostatic']).optional(),
  rateMPerH: within(0.1, 50, 'm/h').optional().describe('rate of rise'),
  temperatureC: within(0, 38, 'degrees C').optional().describe('of the concrete when it is placed'),
  densityKgPerM3: within(800, 6000, 'kg/m3').optional(),
  chemistryCoefficient: within(1, 2, '(Cc)').optional().describe('Cc of ACI 347, by cement and retarder'),
  slumpMm: within(0, 350, 'mm').optional().describe('ACI 347'),
  vibrationDepthMm: within(0, 20000, 'mm')
    .optional()
    .describe('depth of internal vibration below the surface; ACI 347'),
  externalVibration: z.boolean().optional(),
  selfCompacting: z.boolean().optional(),
  expansiveCement: z.boolean().optional().describe('ACI 347'),
  underwater: z.boolean().optional().describe('placed under water; CIRIA 108'),
  pumpedFromBase: z.boolean().optional().describe('pumped into the form from its foot'),
  pourHeightMm: within(1, 50000, 'mm')
    .optional()
    .describe('height poured at once, where it is more than that of the wall'),
  formHeightMm: within(1, 50000, 'mm')
    .optional()
    .describe('height of the form where it is more than that of the forms laid out; CIRIA 108'),
  consistency: z.enum(['F1', 'F2', 'F3', 'F4', 'F5', 'F6', 'SVB']).optional().describe('flow class; DIN 18218'),
  settingTimeH: within(1, 72, 'h').optional().describe('end of setting after mixing; DIN 18218'),
  c2: z.literal([0.3, 0.45, 0.6]).optional().describe('C2 of CIRIA 108, by cement and admixture'),
  supplyM3PerH: positive.max(500).optional().describe('concrete that comes to the walls poured at once, m3 an hour'),
  rateFtPerH: within(0.3, 165, 'ft/h').optional().describe('instead of rateMPerH'),
  temperatureF: within(40, 100, 'degrees F').optional().describe('instead of temperatureC'),
  densityPcf: within(50, 375, 'lb/ft3').optional().describe('instead of densityKgPerM3'),
  supplyYd3PerH: positive.max(650).optional().describe('instead of supplyM3PerH'),
});

type Shape = z.infer<typeof shape>;

const given = <K extends keyof Shape>(c: Shape, keys: readonly K[]): K[] => keys.filter((k) => c[k] !== undefined);

/** Values that do not go together; each with the key that is to change. */
const contradictions = (c: Shape): { readonly key: keyof Shape; readonly message: string }[] => {
  const [si] = given(c, SI_KEYS);
  const [us] = given(c, US_KEYS);
  if (si !== undefined && us !== undefined)
    return [{ key: us, message: `is in US units and ${si} is not: one job file has one system of units` }];
  if (c.method === 'aci-347-us' && si !== undefined)
    return [{ key: si, message: 'is in SI units, and the method aci-347-us has its own: give the US key' }];
  const takesSi = c.method !== undefined && c.method !== 'aci-347-us' && c.method !== 'hydrostatic';
  if (takesSi && us !== undefined)
    return [{ key: us, message: `is in US units, and the method ${c.method} has SI units: give the SI key` }];
  const other = c.consistency !== undefined && c.consistency !== 'SVB';
  if (c.selfCompacting === true && other)
    return [{ key: 'consistency', message: `is ${c.consistency} where selfCompacting says SVB` }];
  return [];
};

export const concreteSchema = shape.superRefine((c, ctx) => {
  for (const { key, message } of contradictions(c)) ctx.addIssue({ code: 'custom', path: [key], message });
});
