/** What layout.json tells of rates of rise: fastest by temperature, least, supply, what fails first, and what comes of other pressures. */

import { z } from 'zod';
import { MM_PER, roundTo } from '../../ground/units.js';
import type { LimitItem, RateCase, RateLimit, Rates } from '../../ground/vocabulary.js';

const item = z
  .object({ code: z.string(), rule: z.string(), subject: z.string(), wall: z.string(), message: z.string() })
  .describe('a failure of the check: of which tie, piece, face or wall');

const limit = z
  .object({
    temperatureC: z.number(),
    temperatureF: z.number().optional().describe('where the method is in US units'),
    rateMPerH: z.number().nullable().describe('rounded down; null: any rate, or none'),
    rateFtPerH: z.number().nullable().optional(),
    bound: z
      .enum(['item', 'range', 'any', 'none', 'fluid'])
      .describe(
        'item: faster, and the item of its pour fails; range: beyond it full fluid pressure counts; any: full fluid pressure is carried; none: no rate is carried; fluid: none either, since full fluid pressure counts there at every rate',
      ),
    carried: z.int().nullable().describe('0-based place in carried of the pours that bound it'),
  })
  .describe('fastest rise at a concrete temperature');

const other = z.object({
  what: z.string(),
  designKpa: z.number().describe('the largest of all pours'),
  failing: z.array(item),
});

export const ratesSchema = z
  .object({
    method: z.string(),
    clampsChecked: z.boolean().describe('false: the catalogue has no clamps'),
    atJob: limit.describe('at the temperature of the job'),
    table: z.array(limit).describe('by rising temperature; empty where the method knows none'),
    carried: z
      .array(
        z.object({
          pourHeightMm: z.number(),
          walls: z.array(z.string()),
          mostKpa: z
            .number()
            .nullable()
            .describe('largest design pressure that is carried, rounded down; null: full fluid pressure'),
          fluidKpa: z.number(),
          item: item.nullable().describe('what fails first above it'),
        }),
      )
      .describe('pours of one height and what their forms carry'),
    notHeld: z.array(item).describe('walls that no rate is told of: their forms do not stand or are not checked'),
    floorMPerH: z.number().describe('slower, and a layer may stiffen before it is covered'),
    supplyM3PerH: z.number().nullable(),
    supplies: z.array(
      z.object({
        pour: z.string().nullable().describe('null: the whole job'),
        planAreaM2: z.number(),
        volumeM3: z.number(),
        rateMPerH: z.number().nullable().describe('of the supply: supply / plan area'),
      }),
    ),
    underFluid: other.describe('what fails under full fluid pressure'),
    sensitivity: z.array(other).describe('a faster rise, and colder concrete'),
  })
  .describe('rates of rise that ties, panels, fillers, corners and clamps carry');

type RatesFile = z.infer<typeof ratesSchema>;

const M_PER_FT = MM_PER.ft / 1000;
const down4 = (value: number): number => Math.floor(value * 1e4 + 1e-1) / 1e4;
const length4 = (value: number): number => roundTo(value, 4);
const load3 = (value: number): number => roundTo(value, 3);
const itemOf = ({ code, rule, subject, wall, message }: LimitItem) => ({ code, rule, subject, wall, message });
const otherOf = ({ what, mostKpa, failing }: RateCase): RatesFile['underFluid'] => ({
  what,
  designKpa: load3(mostKpa),
  failing: failing.map(itemOf),
});

export const ratesOf = (rates: Rates): RatesFile => {
  const isUs = rates.units === 'us';
  const mPerH = isUs ? M_PER_FT : 1;
  const limitOf = ({ temperature, rate, bound, by }: RateLimit): RatesFile['atJob'] => ({
    temperatureC: length4(isUs ? ((temperature - 32) * 5) / 9 : temperature),
    ...(isUs ? { temperatureF: length4(temperature) } : {}),
    rateMPerH: rate === null ? null : down4(rate * mPerH),
    ...(isUs ? { rateFtPerH: rate === null ? null : down4(rate) } : {}),
    bound,
    carried: by,
  });
  return {
    method: rates.method,
    clampsChecked: rates.clampsChecked,
    atJob: limitOf(rates.atJob),
    table: rates.table.map(limitOf),
    carried: rates.carried.map((c) => ({
      pourHeightMm: length4(c.pourHeightMm),
      walls: [...c.walls],
      mostKpa: c.mostKpa === null ? null : Math.floor(c.mostKpa * 1e3 + 1e-2) / 1e3,
      fluidKpa: load3(c.fluidKpa),
      item: c.item === null ? null : itemOf(c.item),
    })),
    notHeld: rates.notHeld.map(itemOf),
    floorMPerH: length4(rates.floor * mPerH),
    supplyM3PerH: rates.supplyM3PerH === null ? null : length4(rates.supplyM3PerH),
    supplies: rates.supplies.map(({ pour, planAreaM2, volumeM3, rate }) => ({
      pour,
      planAreaM2: length4(planAreaM2),
      volumeM3: length4(volumeM3),
      rateMPerH: rate === null ? null : length4(rate * mPerH),
    })),
    underFluid: otherOf(rates.underFluid),
    sensitivity: rates.sensitivity.map(otherOf),
  };
};
