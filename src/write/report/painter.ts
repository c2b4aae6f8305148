/** Pictures as PNG: resvg (MPL-2.0) draws the SVG with a font that is brought along, so that they look the same on every machine. */

import { initWasm, Resvg } from '@resvg/resvg-wasm';

/** What is needed to paint: the engine's own bytes and the fonts of the pictures. */
export interface PaintKit {
  readonly engine: Uint8Array;
  readonly fonts: readonly Uint8Array[];
}

/** Dots for an SVG pixel: 2 are 192 dots an inch, readable when printed. */
const DOTS_PER_PX = 2;
/** Longest side of a picture, dots: what common programs still open. */
const MOST_DOTS = 12000;

let loaded: Promise<void> | null = null;

/** Loads the engine once; what it gives back paints without waiting. */
export const loadPainter = async ({ engine, fonts }: PaintKit): Promise<(svg: string) => Uint8Array> => {
  loaded ??= initWasm(engine as Uint8Array<ArrayBuffer>);
  await loaded;
  return (svg) => {
    const [, width, height] = /<svg[^>]* width="(\d+)" height="(\d+)"/.exec(svg) ?? [];
    const longest = Math.max(Number(width), Number(height));
    const zoom = Math.min(DOTS_PER_PX, MOST_DOTS / longest);
    const painter = new Resvg(svg, {
      fitTo: { mode: 'zoom', value: zoom },
      background: '#ffffff',
      font: {
        fontBuffers: [...fonts],
        loadSystemFonts: false,
        defaultFontFamily: 'DejaVu Sans',
        sansSerifFamily: 'DejaVu Sans',
      },
    });
    const image = painter.render();
    const bytes = image.asPng();
    image.free();
    painter.free();
    return bytes;
  };
};
