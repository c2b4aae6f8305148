/** What the report holds, in its order: page and PDF are both made of these. */

import type { Result } from '../../ground/vocabulary.js';
import { bracingSection } from './bracing.js';
import { checkSheetSection } from './checkSheet.js';
import { closingSections } from './closing.js';
import { elevationsSection, planSection } from './drawings.js';
import { findingsSection } from './findings.js';
import { gangsSection } from './gangs.js';
import { inputsSection } from './inputs.js';
import { loadsSection } from './loads.js';
import type { Markup } from './markup.js';
import { modelSection } from './model.js';
import { ratesSection } from './rates.js';
import { scheduleSection, settingSection } from './schedules.js';
import { specialSection } from './special.js';
import { strippingSection } from './stripping.js';
import { summarySection, verdict } from './summary.js';
import { surveySection } from './survey.js';
import { tolerancesSection } from './tolerances.js';

/** Anchor and name of each section, for the table of contents. */
export const CONTENTS: readonly (readonly [string, string])[] = [
  ['summary', 'Summary'],
  ['inputs', 'Inputs'],
  ['findings', 'Findings'],
  ['model', 'Walls of the model'],
  ['plan', 'Plan'],
  ['elevations', 'Elevations'],
  ['survey', 'Measured levels'],
  ['special', 'Special forms'],
  ['check-sheet', 'Check sheet'],
  ['loads', 'Pressure and loads'],
  ['bracing', 'Aligners, braces and platforms'],
  ['gangs', 'Gangs'],
  ['rates', 'Rate of rise'],
  ['tolerances', 'Tolerances'],
  ['stripping', 'Stripping'],
  ['schedule', 'Schedule'],
  ['setting', 'Setting list'],
  ['not-checked', 'Not checked'],
  ['cautions', 'Cautions'],
];

export interface ReportParts {
  readonly title: string;
  readonly intro: string;
  /** The verdict first. */
  readonly sections: readonly Markup[];
  readonly footer: string;
}

export const reportSections = (result: Result): ReportParts => ({
  title: `Wall forms for ${result.source.file}`,
  intro: `Laid out by shutterwright with ${result.catalogue.name}. An aid to a competent person, not a design: see the cautions.`,
  sections: [
    verdict(result),
    summarySection(result),
    inputsSection(result),
    findingsSection(result),
    modelSection(result),
    planSection(result),
    elevationsSection(result),
    surveySection(result),
    specialSection(result),
    checkSheetSection(result),
    loadsSection(result),
    bracingSection(result),
    gangsSection(result),
    ratesSection(result),
    tolerancesSection(result),
    strippingSection(result),
    scheduleSection(result),
    settingSection(result),
    closingSections(),
  ],
  footer: `Drawing ${result.source.file}, SHA-256 ${result.source.sha256}`,
});
