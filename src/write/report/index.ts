/**
 * The report: one HTML file that needs nothing else, runs one small script of its own (./script.ts) and asks no server for anything (its content security
 * policy says so). Every text of the drawing and of the catalogue goes through ./markup.ts.
 */

import type { Result } from '../../ground/vocabulary.js';
import { html, lines, Markup } from './markup.js';
import { SCRIPT, SCRIPT_DIGEST } from './script.js';
import { CONTENTS, reportSections } from './sections.js';
import { STYLE } from './style.js';

export type { PaperKit } from './pdf/index.js';
export { type Picture, pictures } from './pictures.js';
export { elevationParts, elevationSvg } from './svg/elevation.js';
export { planSvg } from './svg/plan.js';
export { pressureSvg } from './svg/pressure.js';

/** Inline style sheets and attributes are ours, and so is the one script; nothing else may be loaded, run, sent or framed. */
const POLICY = `default-src 'none'; script-src 'sha256-${SCRIPT_DIGEST}'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'`;

/** The report's HTML text, ending in a line feed. Same result, same bytes. */
export const reportHtml = (result: Result): string => {
  const parts = reportSections(result);
  const { title } = parts;
  const [verdict, ...sections] = parts.sections;
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
<p>${parts.intro}</p>
</header>
<main id="main">
${verdict!}
<nav aria-label="Contents"><ul>${present.map(([id, name]) => html`<li><a href="#${id}">${name}</a></li>`)}</ul></nav>
${lines(sections)}
</main>
<footer>
<p>Drawing ${result.source.file}, SHA-256 <span class="hash">${result.source.sha256}</span></p>
</footer>
<script>${new Markup(SCRIPT)}</script>
</body>
</html>
`;
  return page.text;
};
