/** Texts of a composed drawing that lie over each other or over the drawing's own texts. */

import type { Result } from '../../src/ground/vocabulary.js';
import { type Bounds, textCorners } from '../../src/write/dxf/bounds.js';
import { compose, type Surroundings } from '../../src/write/dxf/compose.js';
import { type Box, overlap } from '../../src/write/dxf/labels.js';
import { makeScene } from '../../src/write/dxf/scene.js';
import type { Shape, Sheet, TextPose } from '../../src/write/dxf/sheet.js';

export interface Text {
  readonly text: string;
  readonly pose: TextPose;
}

export const textsOf = (shapes: readonly Shape[], sheet: Sheet): Text[] =>
  shapes.flatMap((s): Text[] => {
    if (s.type === 'text') return [{ text: s.text, pose: s }];
    if (s.type === 'dimension') return textsOf(sheet.blocks.find((b) => b.name === s.block)!.shapes, sheet);
    if (s.type === 'insert') return s.attributes.filter((a) => a.visible).map((a) => ({ text: a.text, pose: a }));
    return [];
  });

/** The estimated box less a mm all round: touching is no clash. */
export const boxOf = ({ text, pose }: Text): Box => {
  const c = textCorners(text, pose);
  return {
    kind: 'text',
    centre: { x: (c[0]!.x + c[2]!.x) / 2, y: (c[0]!.y + c[2]!.y) / 2 },
    halfMm: [Math.hypot(c[1]!.x - c[0]!.x, c[1]!.y - c[0]!.y) / 2 - 1, pose.heightMm / 2 - 1],
    rotationDeg: pose.rotationDeg,
  };
};

const ofDrawing = (b: Bounds): Box => ({
  kind: 'text',
  centre: { x: (b.minX + b.maxX) / 2, y: (b.minY + b.maxY) / 2 },
  halfMm: [(b.maxX - b.minX) / 2 - 1, (b.maxY - b.minY) / 2 - 1],
  rotationDeg: 0,
});

/** Pairs that overlap, found by a sweep over x. */
const pairs = (items: readonly { readonly text: string; readonly box: Box; readonly isOurs: boolean }[]): string[] => {
  const reach = ({ halfMm }: Box): number => Math.hypot(...halfMm);
  const sorted = [...items].sort((a, b) => a.box.centre.x - reach(a.box) - (b.box.centre.x - reach(b.box)));
  const found: string[] = [];
  sorted.forEach((a, i) => {
    const end = a.box.centre.x + reach(a.box);
    for (let k = i + 1; k < sorted.length; k++) {
      const b = sorted[k]!;
      if (b.box.centre.x - reach(b.box) > end) break;
      if ((a.isOurs || b.isOurs) && overlap(a.box, b.box)) {
        const { x, y } = a.box.centre;
        found.push(`${a.text} | ${b.text} at ${Math.round(x)}, ${Math.round(y)}`);
      }
    }
  });
  return found;
};

/** In the model space and on every sheet. */
export const clashes = (result: Result, drawing: Surroundings): string[] => {
  const { sheet } = compose(makeScene(result, 'AC1032', new Set()), drawing, true);
  const ours = textsOf(sheet.shapes, sheet).map((t) => ({ text: t.text, box: boxOf(t), isOurs: true }));
  const theirs = drawing.texts.map((b, i) => ({
    text: `text ${i + 1} of the drawing`,
    box: ofDrawing(b),
    isOurs: false,
  }));
  const onPaper = (sheet.papers ?? []).flatMap((p) =>
    pairs(textsOf(p.shapes, sheet).map((t) => ({ text: t.text, box: boxOf(t), isOurs: true }))).map(
      (c) => `${p.name}: ${c}`,
    ),
  );
  return [...pairs([...ours, ...theirs]), ...onPaper];
};
