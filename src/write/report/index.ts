/**
 * The report: one HTML file that needs nothing else, runs no script and asks no server for anything (its content security policy says so). Every
 * text of the drawing and of the catalogue goes through ./markup.ts.
 */

import type { Result } from '../../ground/vocabulary.js';
import { bracingSection } from './bracing.js';
import { checkSheetSection } from './checkSheet.js';
import { closingSections } from './closing.js';
import { elevationsSection, planSection } from './drawings.js';
import { findingsSection } from './findings.js';
import { gangsSection } from './gangs.js';
import { inputsSection } from './inputs.js';
import { loadsSection } from './loads.js';
import { html, lines, Markup } from './markup.js';
import { modelSection } from './model.js';
import { ratesSection } from './rates.js';
import { scheduleSection, settingSection } from './schedules.js';
import { specialSection } from './special.js';
import { strippingSection } from './stripping.js';
import { STYLE } from './style.js';
import { summarySection, verdict } from './summary.js';
import { surveySection } from './survey.js';

export { elevationParts, elevationSvg } from './svg/elevation.js';
export { planSvg } from './svg/plan.js';
export { pressureSvg } from './svg/pressure.js';

/** Inline style sheets and attributes are ours; nothing else may be loaded, run, sent or framed. */
const POLICY = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";

const CONTENTS: readonly (readonly [string, string])[] = [
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
  ['stripping', 'Stripping'],
  ['schedule', 'Schedule'],
  ['setting', 'Setting list'],
  ['not-checked', 'Not checked'],
  ['cautions', 'Cautions'],
];

/** The report's HTML text, ending in a line feed. Same result, same bytes. */
export const reportHtml = (result: Result): string => {
  const title = `Wall forms for ${result.source.file}`;
  const sections = [
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
    strippingSection(result),
    scheduleSection(result),
    settingSection(result),
    closingSections(),
  ];
  const present = CONTENTS.filter(([id]) => sections.some((s) => s.text.includes(`<section id="${id}"`)));
  const page = html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${new Markup(POLICY)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<title>${title}</title>
<style>${new Markup(STYLE)}</style>
</head>
<body>
<a class="skip" href="#main">To the report</a>
<header>
<h1>${title}</h1>
<p>Laid out by shutterwright with ${result.catalogue.name}. An aid to a competent person, not a design: see the cautions.</p>
</header>
<main id="main">
${verdict(result)}
<nav aria-label="Contents"><ul>${present.map(([id, name]) => html`<li><a href="#${id}">${name}</a></li>`)}</ul></nav>
${lines(sections)}
</main>
<footer>
<p>Drawing ${result.source.file}, SHA-256 <span class="hash">${result.source.sha256}</span></p>
</footer>
</body>
</html>
`;
  return page.text;
};
