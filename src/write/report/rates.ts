/** Rate of rise, for the foreman and for whoever signs: how fast by temperature, what gives way first, what comes of other rates, and how the pressure was worked out. */

import { allowedText, boundText, DEGREES, limitText, RATE_UNIT, roundedDown } from '../../ground/rateWords.js';
import { M3_PER_YD3, MM_PER, plainNumber } from '../../ground/units.js';
import type { LimitItem, PressureCase, PressureFacts, RateCase, Rates, Result } from '../../ground/vocabulary.js';
import { pressureInputs } from './inputs.js';
import { html, lines, type Markup } from './markup.js';
import { type GearUnit, lengthText } from './sizes.js';
import { table } from './table.js';

const MOST_ITEMS = 10;
const M_PER_FT = MM_PER.ft / 1000;

const pourText = (rates: Rates, by: number | null, gear: GearUnit): string => {
  const carried = by === null ? undefined : rates.carried[by];
  return carried ? `${lengthText(carried.pourHeightMm, gear)} ${gear}` : '';
};

const limitsTable = (rates: Rates, gear: GearUnit): Markup => {
  const { units, table: limits } = rates;
  const columns = [
    { head: `Concrete, ${DEGREES[units]}`, figures: true },
    { head: `Rise at most, ${RATE_UNIT[units]}`, figures: true },
    { head: 'Pour' },
    { head: 'What gives way first' },
  ];
  const rows = limits.map((limit) => ({
    cells: [
      plainNumber(limit.temperature, 1),
      limit.rate === null ? limitText(units, limit) : plainNumber(roundedDown(limit.rate), 2),
      pourText(rates, limit.by, gear),
      boundText(rates, limit) || 'nothing, full fluid pressure is carried',
    ],
  }));
  return table('Fastest rise by concrete temperature', columns, rows, 'The method knows no rate of rise.');
};

/** Floor, supply and limit of each pour, as rates and as concrete an hour. */
const suppliesTable = (rates: Rates): Markup => {
  const { units, floor, atJob, supplies } = rates;
  const [m3, unit, mPerH] = units === 'us' ? [M3_PER_YD3, 'yd³/h', M_PER_FT] : [1, 'm³/h', 1];
  const anHour = (rate: number, areaM2: number) => plainNumber((rate * mPerH * areaM2) / m3, 1);
  const columns = [
    { head: 'Pour' },
    { head: 'Plan area, m²', figures: true },
    { head: 'Concrete, m³', figures: true },
    { head: `At the floor of ${plainNumber(floor, 2)} ${RATE_UNIT[units]}, ${unit}`, figures: true },
    { head: `The supply makes, ${RATE_UNIT[units]}`, figures: true },
    { head: `At the limit, ${unit}`, figures: true },
  ];
  const rows = supplies.map(({ pour, planAreaM2, volumeM3, rate }) => ({
    cells: [
      pour ?? 'all walls at once',
      plainNumber(planAreaM2, 2),
      plainNumber(volumeM3, 2),
      anHour(floor, planAreaM2),
      rate === null ? 'not stated' : plainNumber(rate, 2),
      atJob.rate === null ? limitText(units, atJob) : anHour(roundedDown(atJob.rate), planAreaM2),
    ],
  }));
  return table('Floor, supply and limit', columns, rows, 'Nothing is poured.');
};

const first = (items: readonly LimitItem[]): string => items[0]?.message ?? 'nothing';

/** What comes of other rates and temperatures, and of full fluid pressure. */
export const othersTable = (rates: Rates): Markup => {
  const columns = [
    { head: 'If the concrete' },
    { head: 'Pressure, kPa', figures: true },
    { head: 'Then fail', figures: true },
    { head: 'First' },
  ];
  const others: RateCase[] = [
    ...rates.sensitivity,
    { ...rates.underFluid, what: `presses as a fluid over its whole height` },
  ];
  const rows = others.map(({ what, mostKpa, failing }) => ({
    ...(failing.length > 0 ? { look: 'failure' } : {}),
    cells: [what.replace(/^(\d)/, 'is $1'), plainNumber(mostKpa, 1), plainNumber(failing.length, 0), first(failing)],
  }));
  return table('What if', columns, rows, '');
};

const fluidList = ({ underFluid: { failing } }: Rates): Markup | null => {
  if (failing.length === 0) return null;
  const more = failing.length - MOST_ITEMS;
  return html`<p>Under full fluid pressure ${plainNumber(failing.length, 0)} checks fail${more > 0 ? `; the first ${plainNumber(MOST_ITEMS, 0)}, all are in layout.json` : ''}:</p>
<ul>${failing.slice(0, MOST_ITEMS).map((f) => html`<li>${f.message} [${f.rule}]</li>`)}</ul>`;
};

const MET = { true: 'met', false: 'NOT MET', null: 'not stated, taken as met' } as const;

const conditionsTable = ({ conditions }: PressureFacts): Markup | null =>
  conditions.length === 0
    ? null
    : table(
        'What the method presupposes',
        [{ head: 'Condition' }, { head: 'Here' }],
        conditions.map(({ text, met }) => ({
          ...(met === false ? { look: 'failure' } : {}),
          cells: [text, MET[`${met}`]],
        })),
        '',
      );

/** What pours that a method takes alike have in common, without their numbers. */
const commonOf = ({ worked: _, ...common }: PressureFacts): string => JSON.stringify(common);

const workedMarkup = (
  { facts, pourHeightMm, designKpa }: PressureCase,
  gear: GearUnit,
): Markup => html`<h5>Pour of ${lengthText(pourHeightMm, gear)} ${gear}: ${plainNumber(designKpa, 2)} kPa</h5>
<ol>${(facts?.worked ?? []).map((step) => html`<li>${step}</li>`)}</ol>`;

/** How a method came to the pressures of pours that are of one case. */
const methodMarkup = (facts: PressureFacts, pours: readonly PressureCase[], gear: GearUnit): Markup => {
  const others = facts.notChosen.map(({ name, why }) => html`<li>${name} not taken: ${why}.</li>`);
  const unverified =
    facts.notConfirmed.length === 0
      ? null
      : html`<p><strong>UNVERIFIED, not confirmed against the standard:</strong> ${facts.notConfirmed.join('; ')}.</p>`;
  return html`<h4>${facts.edition}, case ${facts.chosen}: ${facts.formula}</h4>
<p>Taken since ${facts.why}. Characteristic value, compared with working loads and ratings.</p>
${others.length === 0 ? null : html`<ul>${others}</ul>`}
${lines(pours.map((p) => workedMarkup(p, gear)))}
${conditionsTable(facts)}
${unverified}`;
};

const methodsMarkup = (cases: readonly PressureCase[], gear: GearUnit): Markup => {
  const alike = new Map<string, { readonly facts: PressureFacts; readonly pours: PressureCase[] }>();
  for (const p of cases) {
    if (!p.facts) continue;
    const key = commonOf(p.facts);
    const known = alike.get(key) ?? { facts: p.facts, pours: [] };
    known.pours.push(p);
    alike.set(key, known);
  }
  return lines([...alike.values()].map(({ facts, pours }) => methodMarkup(facts, pours, gear)));
};

export const ratesSection = (result: Result): Markup => {
  const { rates, pressure } = result.layout;
  if (!rates) return lines([]);
  const gear = result.catalogue.lengthUnit;
  return html`<section id="rates">
<h2>Rate of rise</h2>
<p><strong>${allowedText(rates)}</strong> Measure the rise and the temperature of the concrete during the pour; pour more slowly when it is colder. Boards of timber fill are counted where the catalogue rates them; bulkheads, box-outs and what braces the forms are not. Rates are rounded down.</p>
${limitsTable(rates, gear)}
${suppliesTable(rates)}
${othersTable(rates)}
${fluidList(rates)}
<h3>How the pressure was worked out</h3>
${pressureInputs(result)}
${methodsMarkup(pressure, gear)}
</section>`;
};
