/** A drawing in the page: never wider than at 1:50, never smaller than at about 1:60 (then it scrolls), as wide as the paper in print. */

import { plainNumber } from '../../ground/units.js';
import { html, type Markup } from './markup.js';
import type { Drawing } from './svg/canvas.js';

const LEAST_SHARE = 0.85;

export const sheet = (drawing: Drawing, label: string): Markup =>
  html`<div class="sheet" role="region" aria-label="${label}" tabindex="0" style="--wide:${plainNumber(drawing.widthPx, 0)}px;--least:${plainNumber(drawing.widthPx * LEAST_SHARE, 0)}px">${drawing.markup}</div>`;
