/** The report's look: one column, readable on a phone, on A4 and A3; every text at least 4.5 : 1 against its ground. */

export const STYLE = `
:root { color-scheme: light; --ink: #1d2733; --quiet: #4f5964; --line: #c9cfd6; --ground: #ffffff; --band: #eef1f4; --fail: #9b2c00; --fail-ground: #fdeee6; --care-ground: #fff3d6; --note: #0b4f7d; }
* { box-sizing: border-box; }
html { font: 16px/1.5 system-ui, 'Segoe UI', 'DejaVu Sans', Arial, sans-serif; color: var(--ink); background: var(--ground); -webkit-text-size-adjust: 100%; }
body { margin: 0; }
header { background: var(--ink); color: #fff; padding: 1.5rem max(1rem, calc((100% - 74rem) / 2)); }
header p { margin: .25rem 0 0; color: #dfe5ea; overflow-wrap: anywhere; }
main, footer { max-width: 76rem; margin: 0 auto; padding: 0 1rem 2rem; }
h1 { font-size: 1.6rem; line-height: 1.2; margin: 0; overflow-wrap: anywhere; }
h2 { font-size: 1.25rem; margin: 2.5rem 0 .75rem; padding-bottom: .3rem; border-bottom: 3px solid var(--ink); }
h3 { font-size: 1.05rem; margin: 1.5rem 0 .5rem; }
a { color: var(--note); }
a:focus-visible, button:focus-visible, [tabindex]:focus-visible { outline: 3px solid #c46a00; outline-offset: 2px; }
.skip { position: absolute; left: -999rem; }
.skip:focus { left: 1rem; top: 1rem; background: #fff; color: var(--ink); padding: .5rem 1rem; }
nav ul { list-style: none; padding: 0; margin: 1rem 0 0; display: flex; flex-wrap: wrap; gap: .25rem 1.25rem; }
.verdict { border: 3px solid var(--ink); border-left-width: 12px; padding: .75rem 1rem; margin: 1.5rem 0 0; }
.verdict.fails { border-color: var(--fail); background: var(--fail-ground); }
.verdict.care { border-color: #8a5a00; background: var(--care-ground); }
.verdict p { margin: 0; }
.verdict p + p, .verdict ol { margin: .5rem 0 0; }
.verdict strong { font-size: 1.15rem; }
.facts { display: grid; grid-template-columns: repeat(2, 1fr); gap: .75rem; margin: 0; }
.facts div { background: var(--band); padding: .6rem .8rem; display: flex; flex-direction: column-reverse; justify-content: flex-end; }
.facts dt { color: var(--quiet); font-size: .9rem; line-height: 1.3; }
.facts dd { margin: 0; font-size: 1.35rem; font-weight: 700; font-variant-numeric: tabular-nums; }
@media (min-width: 40rem), print { .facts { grid-template-columns: repeat(4, 1fr); } }
.wide { overflow-x: auto; margin: .75rem 0; }
table { border-collapse: collapse; width: 100%; font-size: .92rem; }
caption { text-align: left; font-weight: 700; padding: .25rem 0 .5rem; }
th, td { text-align: left; vertical-align: top; padding: .35rem .6rem; border-bottom: 1px solid var(--line); }
thead th { background: var(--band); border-bottom: 2px solid var(--ink); vertical-align: bottom; }
tbody th { font-weight: 600; }
.figures { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap; }
tr.failure > * { background: var(--fail-ground); }
tr.attention > * { background: var(--care-ground); }
tr { scroll-margin-top: 4rem; }
tr:target > * { box-shadow: inset 0 3px 0 #c46a00, inset 0 -3px 0 #c46a00; }
.severity { white-space: nowrap; font-weight: 700; }
.failure .severity { color: var(--fail); }
.message { min-width: 16rem; overflow-wrap: anywhere; }
.alike { margin-top: .35rem; color: var(--quiet); overflow-wrap: anywhere; }
.alike > span { scroll-margin-top: 4rem; }
.alike > span:target { outline: 3px solid #c46a00; }
.code, .hash { font-family: ui-monospace, 'DejaVu Sans Mono', monospace; font-size: .85em; }
.hash { overflow-wrap: anywhere; }
.sheet { overflow-x: auto; border: 1px solid var(--line); padding: .5rem; }
.sheet svg { display: block; width: 100%; max-width: var(--wide); min-width: var(--least); height: auto; margin: 0 auto; }
svg a:focus-visible path, svg a:target path { stroke: #c46a00; stroke-width: 70; stroke-dasharray: none; }
svg a:focus { outline: none; }
.tools { display: flex; align-items: center; gap: .5rem; margin: .75rem 0 .5rem; }
.tools button { font: inherit; font-weight: 700; min-width: 2.75rem; min-height: 2.75rem; border: 2px solid var(--ink); background: #fff; color: var(--ink); cursor: pointer; }
.tools span { color: var(--quiet); font-variant-numeric: tabular-nums; }
.zooms { max-height: 82vh; overflow: auto; cursor: grab; }
.zooms svg { user-select: none; }
.legend { list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: .35rem 1.25rem; font-size: .92rem; }
.legend li { display: flex; align-items: center; gap: .4rem; }
.quiet { color: var(--quiet); }
footer { border-top: 1px solid var(--line); padding-top: 1rem; color: var(--quiet); font-size: .9rem; }
@media screen and (max-width: 40rem) {
  #findings thead { position: absolute; left: -999rem; }
  #findings tr { display: block; border-bottom: 2px solid var(--line); padding: .5rem; }
  #findings tr > * { display: inline; border: 0; padding: 0 .5rem 0 0; }
  #findings .message { min-width: 0; padding: .25rem 0; }
  #findings td:nth-child(6):not(:empty)::before { content: 'Assumed: '; color: var(--quiet); }
  #findings td:nth-child(7):not(:empty)::before { content: 'At: '; color: var(--quiet); }
}
@page { margin: 12mm; }
@page wide { size: landscape; margin: 10mm; }
@media print {
  html { font-size: 9.5pt; }
  header { background: none; color: #000; padding: 0 0 4mm; border-bottom: 2px solid #000; }
  header p { color: #000; }
  main, footer { max-width: none; }
  main, footer { padding: 0; }
  nav, .skip, .tools { display: none; }
  a { color: inherit; text-decoration: none; }
  h2, h3, caption { break-after: avoid; }
  thead { display: table-header-group; }
  tr, .verdict, .facts div, .sheet, .part { break-inside: avoid; }
  .wide, .sheet { overflow: visible; }
  .message { min-width: 62mm; }
  .drawn { page: wide; break-before: page; }
  .sheet { border: 0; padding: 0; max-height: none; }
  .sheet svg { width: 100% !important; min-width: 0 !important; max-width: min(100%, var(--wide)) !important; max-height: 165mm; }
  .verdict, thead th, tr.failure > *, tr.attention > *, .facts div, svg { -webkit-print-color-adjust: exact; print-color-adjust: exact; }
}
`;
