/** Special forms in plan: the hatched band along the face, and in words that it is to be designed and what pushes it. */

import { degrees } from '../../ground/places.js';
import { angleOf } from '../../ground/plane.js';
import { specialOutline } from '../../ground/specialOutlines.js';
import type { Places } from './labels.js';
import type { Scene } from './scene.js';
import { line, polyline, type Shape, text, textWidth } from './sheet.js';

export const drawSpecialForms = (scene: Scene, places: Places): Shape[] =>
  (scene.result.specialForms ?? []).flatMap((form): Shape[] => {
    const heightMm = scene.sizes.mark;
    const outline = specialOutline(scene.result.plan, form, heightMm);
    if (!outline) return [];
    const about = ['special-form', form.run];
    const rotationDeg = degrees(angleOf(outline.along));
    const widthMm = Math.max(...outline.lines.map((l) => textWidth(l.words, heightMm)));
    places.take({ kind: 'text', centre: outline.at, halfMm: [widthMm / 2, 1.5 * heightMm], rotationDeg });
    return [
      polyline('FLAG', outline.ring, true, about),
      ...outline.strokes.map(([from, to]) => line('FLAG', from, to, about)),
      ...outline.lines.map(({ words, at }) =>
        text('FLAG', words, at, heightMm, { rotationDeg, across: 'centre', upright: 'middle', about }),
      ),
    ];
  });
