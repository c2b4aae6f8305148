/** The parts of the report one by one: utilisation, places in plan and elevation, labels, pressure, contrast. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Vec } from '../../src/ground/plane.js';
import type { Face, PressureCase, Result } from '../../src/ground/vocabulary.js';
import { indexPlan, pieceShapes } from '../../src/write/report/geometry.js';
import { elevationParts, elevationSvg, planSvg, pressureSvg, reportHtml } from '../../src/write/report/index.js';
import { lengthText, unitSize, utilisation } from '../../src/write/report/sizes.js';
import { STYLE } from '../../src/write/report/style.js';
import { FAIL_INK, INK, NOTE_INK, QUIET_INK } from '../../src/write/report/svg/canvas.js';
import { lanes, spread, widthLabels } from '../../src/write/report/svg/labels.js';
import { envelopeToFoot, liquidHeadKpa } from '../../src/write/report/svg/pressure.js';
import { exampleCatalogue, examplePieces, examplePlan, exampleResult } from '../support/exampleResult.js';
import { readMarkup } from './markupReader.js';

const SEED = Number(process.env.FC_SEED ?? 5975);

describe('utilisation', () => {
  it('is rounded up: 1.004 never prints as 1.00', () => {
    expect(utilisation(1.004, 1)).toBe('1.01');
    expect(utilisation(20.624, 20)).toBe('1.04');
    expect(utilisation(11, 20)).toBe('0.55');
    expect(utilisation(0, 20)).toBe('0.00');
  });

  it('never prints less than the truth, nor a hundredth more', () => {
    const loads = fc.double({ min: 0, max: 1000, noNaN: true });
    fc.assert(
      fc.property(loads, fc.double({ min: 0.1, max: 1000, noNaN: true }), (load, capacity) => {
        const printed = Number(utilisation(load, capacity));
        const ratio = load / capacity;
        expect(printed).toBeGreaterThanOrEqual(ratio - 1e-8 * Math.max(1, ratio));
        expect(printed).toBeLessThan(ratio + 0.01 + 1e-8 * Math.max(1, ratio));
      }),
      { seed: SEED, numRuns: 500 },
    );
  });

  it('is nothing without a capacity or a number, and the table then says so and not 0', () => {
    for (const [load, capacity] of [
      [5, 0],
      [5, -1],
      [Number.NaN, 20],
      [5, Number.NaN],
    ] as const)
      expect(utilisation(load, capacity)).toBeNull();
    const ties = exampleResult.layout.ties.map((t, i) => (i === 5 ? { ...t, workingLoadKn: 0 } : t));
    const html = reportHtml({ ...exampleResult, layout: { ...exampleResult.layout, ties } });
    expect(html).toContain('no capacity');
    expect(html).toContain('2 of 42 ties carry more than their working load');
  });

  it('shows the ten most loaded ties, the worst first', () => {
    const html = reportHtml(exampleResult);
    const table = html.slice(html.indexOf('The ten most loaded ties</caption>'));
    const shown = [...table.slice(0, table.indexOf('</table>')).matchAll(/<th scope="row">(T\d+)<\/th>/g)].map(
      (m) => m[1],
    );
    const worst = [...exampleResult.layout.ties].sort((a, b) => b.loadKn - a.loadKn).map((t) => t.loadKn);
    const loads = shown.map((id) => exampleResult.layout.ties.find((t) => t.id === id)!.loadKn);
    expect(loads).toEqual(worst.slice(0, 10));
  });
});

describe('lengths', () => {
  it('are told in the gear’s unit: mm, or inches to a sixteenth', () => {
    expect(lengthText(1234.5, 'mm')).toBe('1234.5');
    expect(lengthText(-100, 'mm')).toBe('-100');
    expect(lengthText(609.6, 'in')).toBe('24');
    expect(lengthText(25.4 * 23.625, 'in')).toBe('23 5/8');
    expect(lengthText(-25.4 / 16, 'in')).toBe('-1/16');
    expect(lengthText(-0.01, 'in')).toBe('0');
  });

  it('of corners are their legs', () => {
    const sizes = exampleCatalogue.units.map((u) => unitSize(u, 'mm'));
    expect(sizes).toContain('150 + 150 x 2400');
    expect(sizes).toContain('50 x 2400');
  });
});

const inRing = (ring: readonly Vec[], p: Vec): boolean =>
  ring.reduce((inside, a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    const crosses = a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) * (b.x - a.x)) / (b.y - a.y);
    return crosses ? !inside : inside;
  }, false);

const area = (ring: readonly Vec[]): number =>
  Math.abs(
    ring.reduce((sum, a, i) => sum + a.x * ring[(i + 1) % ring.length]!.y - ring[(i + 1) % ring.length]!.x * a.y, 0),
  ) / 2;

const centre = (ring: readonly Vec[]): Vec => ({
  x: ring.reduce((s, p) => s + p.x, 0) / ring.length,
  y: ring.reduce((s, p) => s + p.y, 0) / ring.length,
});

describe('plan', () => {
  const index = indexPlan(examplePlan);
  const [concrete] = examplePlan.concrete;

  it('stands every piece outside the concrete and against it', () => {
    for (const piece of examplePieces) {
      const shapes = pieceShapes(index, piece, 60);
      expect(shapes.length, piece.id).toBe(1);
      const ring = shapes[0]!;
      expect(inRing(concrete!, centre(ring)), piece.id).toBe(false);
      if (piece.covers.length !== 1) continue;
      const cover = piece.covers[0]!;
      expect(area(ring), piece.id).toBeCloseTo((cover.toMm - cover.fromMm) * 60, 6);
      // 60 from the face inwards the same rectangle lies in the concrete, unless the piece runs past its end.
      const face = examplePlan.faces.find((f) => f.id === cover.face)!;
      if (cover.toMm > face.toMm || cover.fromMm < face.fromMm) continue;
      const [a, b, c] = [ring[0]!, ring[1]!, ring[2]!];
      const inner = { x: (a.x + b.x) / 2 - (c.x - b.x) / 2, y: (a.y + b.y) / 2 - (c.y - b.y) / 2 };
      expect(inRing(concrete!, inner), piece.id).toBe(true);
    }
  });

  it('draws corners as one piece: an L of two legs less the corner, a square outside', () => {
    const shape = (kind: string) => pieceShapes(index, examplePieces.find((p) => p.kind === kind)!, 60)[0]!;
    expect(area(shape('inside-corner'))).toBeCloseTo(2 * 150 * 60 - 60 * 60, 6);
    expect(area(shape('outside-corner'))).toBeCloseTo(60 * 60, 6);
    expect(centre(shape('outside-corner')).x).toBeLessThan(-100);
  });

  it('names every wall and face, writes widths with their letters, and draws stacked pieces once', () => {
    const { text } = readMarkup(planSvg(exampleResult));
    for (const name of ['W1', 'W2', 'W1-left = 2600', 'W2-left = 2000', 'F 50', 'TM 30', 'C 150', 'START'])
      expect(text).toContain(name);
    // The base gap and the second course stand under and over a panel that shows.
    expect(planSvg(exampleResult)).not.toContain('<title>P19:');
    expect(planSvg(exampleResult)).not.toContain('<title>P21:');
    expect(planSvg(exampleResult)).toContain('<title>P20:');
  });
});

/** Middle x of each piece's rectangle in an elevation. */
const places = (svg: string): ReadonlyMap<string, number> =>
  new Map(
    [...svg.matchAll(/<path d="([^"]*)" fill="[^"]*"><title>(\S+):/g)].map(([, d, id]) => {
      const xs = [...d!.matchAll(/[ML](-?[\d.]+) /g)].map((m) => Number(m[1]));
      return [id!, (Math.min(...xs) + Math.max(...xs)) / 2];
    }),
  );

describe('elevation', () => {
  it('is seen from outside: the right face’s stations run to the right, the left face’s to the left', () => {
    const order = (face: string, sign: 1 | -1) => {
      const at = places(elevationSvg(exampleResult, face));
      const own = examplePieces.filter((p) => p.covers.some((c) => c.face === face));
      expect(at.size).toBe(own.length);
      const middle = (id: string) => {
        const cover = examplePieces.find((p) => p.id === id)!.covers.find((c) => c.face === face)!;
        return sign * ((cover.fromMm + cover.toMm) / 2);
      };
      const ids = [...at.keys()];
      for (const a of ids) for (const b of ids) expect(at.get(a)! - at.get(b)!).toBeCloseTo(middle(a) - middle(b), 6);
    };
    order('W1-right', 1);
    order('W1-left', -1);
  });

  it('shows rows, levels, joints’ stations, ends and sizes', () => {
    const { text } = readMarkup(elevationSvg(exampleResult, 'W2-left'));
    for (const part of [
      'R1  300',
      'R1  625',
      'pour line 2350',
      'footing 0',
      'footing 310',
      '1450',
      '1900 end',
      'x 1800',
      'LEFT: station 2050',
      'RIGHT: station -100',
    ])
      expect(text).toContain(part);
    for (const tie of exampleResult.layout.ties.filter((t) => t.wall === 'W2')) expect(text).toContain(tie.id);
  });

  it('of a face that the result does not have is nothing', () => {
    expect(elevationSvg(exampleResult, 'no such face')).toBe('');
  });

  it('of a face without length is nothing, and the report says so', () => {
    const faces = examplePlan.faces.map((f) => (f.id === 'W2-left' ? { ...f, toMm: f.fromMm } : f));
    const pieces = examplePieces.filter((p) => !p.covers.some((c) => c.face === 'W2-left'));
    const result: Result = {
      ...exampleResult,
      plan: { ...examplePlan, faces },
      layout: { ...exampleResult.layout, pieces, ties: [] },
    };
    expect(elevationSvg(result, 'W2-left')).toBe('');
    const html = reportHtml(result);
    readMarkup(html);
    expect(html).toContain('This face has no length.');
  });

  it('parts long faces at joints, so that every piece stands in one part whole', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 20, max: 2400 }), { minLength: 1, maxLength: 60 }), (widths) => {
        const face: Face = { id: 'F', wall: 'W1', side: 'right', fromMm: 0, toMm: widths.reduce((a, b) => a + b, 0) };
        let at = 0;
        const pieces = widths.map((w, i) => {
          const cover = { face: 'F', fromMm: at, toMm: at + w, baseMm: 0, topMm: 2400 };
          at += w;
          return { ...examplePieces[0]!, id: `P${i}`, covers: [cover] };
        });
        const result: Result = { ...exampleResult, layout: { ...exampleResult.layout, pieces } };
        const parts = elevationParts(result, face);
        expect(parts[0]!.fromMm).toBe(0);
        expect(parts.at(-1)!.toMm).toBe(face.toMm);
        parts.slice(1).forEach((part, i) => {
          expect(part.fromMm).toBe(parts[i]!.toMm);
        });
        for (const { covers } of pieces)
          expect(parts.filter((p) => covers[0]!.fromMm >= p.fromMm && covers[0]!.toMm <= p.toMm)).toHaveLength(1);
        for (const part of parts) expect(part.toMm - part.fromMm).toBeLessThanOrEqual(11000 + 2400);
      }),
      { seed: SEED, numRuns: 200 },
    );
  });
});

describe('labels', () => {
  const sorted = fc
    .array(fc.integer({ min: 0, max: 5000 }), { minLength: 1, maxLength: 30 })
    .map((a) => a.sort((x, y) => x - y));

  it('are spread to their gap in order, and stay where they have room', () => {
    fc.assert(
      fc.property(sorted, fc.integer({ min: 1, max: 300 }), (at, gap) => {
        const places = spread(at, gap);
        places.slice(1).forEach((p, i) => {
          expect(p - places[i]!).toBeGreaterThanOrEqual(gap - 1e-6);
        });
        const roomy = at.every((x, i) => i === 0 || x - at[i - 1]! >= gap);
        if (roomy) for (const [i, p] of places.entries()) expect(p).toBeCloseTo(at[i]!, 6);
        // Least squares keeps the mean.
        const mean = (list: readonly number[]) => list.reduce((a, b) => a + b, 0) / list.length;
        expect(mean(places)).toBeCloseTo(mean(at), 6);
      }),
      { seed: SEED, numRuns: 300 },
    );
  });

  it('in one lane never touch', () => {
    const wanted = fc.array(
      fc.record({ atMm: fc.integer({ min: 0, max: 5000 }), lengthMm: fc.integer({ min: 1, max: 500 }) }),
    );
    fc.assert(
      fc.property(wanted, (list) => {
        const lane = lanes(list);
        list.forEach((a, i) => {
          list.slice(i + 1).forEach((b, k) => {
            if (lane[i] !== lane[i + 1 + k]) return;
            expect(Math.abs(a.atMm - b.atMm) * 2).toBeGreaterThanOrEqual(a.lengthMm + b.lengthMm);
          });
        });
      }),
      { seed: SEED, numRuns: 300 },
    );
  });

  it('stand along their piece where they fit, else square to it', () => {
    const { labels } = widthLabels(
      [
        { fromMm: 0, toMm: 600, text: '600' },
        { fromMm: 600, toMm: 630, text: 'TM 30' },
      ],
      140,
    );
    expect(labels.map((l) => l.along)).toEqual([true, false]);
  });
});

describe('pressure', () => {
  const example = exampleResult.layout.pressure[0]!;

  it('of several pours: what they share stands once among the inputs, what differs with its pour', () => {
    const low: PressureCase = {
      ...example,
      pourHeightMm: 1000,
      rateMPerH: 3,
      inputs: { ...example.inputs, rateMPerH: 3 },
    };
    const pressure = [example, { ...example, pourHeightMm: 2000 }, low];
    const html = reportHtml({ ...exampleResult, layout: { ...exampleResult.layout, pressure } });
    const heads = [...html.matchAll(/<t[hd][^>]*>((?:pressure method|rate of rise|density)[^<]*)</g)].map((m) => m[1]);
    expect(heads).toEqual([
      'pressure method',
      'rate of rise, pours of 2350, 2000 mm',
      'rate of rise, pour of 1000 mm',
      'density',
    ]);
  });

  it('envelope runs from nothing at the pour line to the foot', () => {
    expect(envelopeToFoot(example)).toEqual([
      { depthMm: 0, kpa: 0 },
      { depthMm: 1831, kpa: 43.1 },
      { depthMm: 2350, kpa: 43.1 },
    ]);
    const short: PressureCase = { ...example, pourHeightMm: 1000 };
    expect(envelopeToFoot(short).at(-1)!.kpa).toBeCloseTo((43.1 * 1000) / 1831, 9);
  });

  it('stands beside the full liquid head', () => {
    // 2400 kg/m3 x 9.80665 m/s2 x 2.35 m.
    expect(liquidHeadKpa(example)).toBeCloseTo(55.3095, 3);
    expect(pressureSvg(example, 'p', 'mm')).toContain('liquid head 55.3 kPa');
    const unknown: PressureCase = { ...example, inputs: {} };
    expect(liquidHeadKpa(unknown)).toBeNull();
    // 150 lb/ft3 over 10 ft are 1500 lb/ft2, 71.82 kPa.
    expect(liquidHeadKpa({ ...example, inputs: { fluidPsf: 1500 } })).toBeCloseTo(71.82, 2);
  });

  it('of no pour is no diagram', () => {
    expect(pressureSvg({ ...example, pourHeightMm: 0 }, 'p', 'mm')).toBe('');
  });
});

describe('contrast', () => {
  /** Relative luminance and contrast ratio of WCAG 2.2. */
  const luminance = (hex: string): number => {
    const [r, g, b] = [1, 3, 5].map((i) => {
      const c = Number.parseInt(hex.slice(i, i + 2), 16) / 255;
      return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
  };
  const ratio = (a: string, b: string): number => {
    const [x, y] = [luminance(a), luminance(b)].sort((m, n) => n - m);
    return (x! + 0.05) / (y! + 0.05);
  };
  const variable = (name: string): string => new RegExp(`--${name}: (#[0-9a-f]{6})`).exec(STYLE)![1]!;

  it('knows black on white', () => {
    expect(ratio('#000000', '#ffffff')).toBeCloseTo(21, 6);
  });

  it('of every text is at least 4.5 to 1', () => {
    const grounds = ['ground', 'band', 'fail-ground', 'care-ground'].map(variable);
    const inks = ['ink', 'quiet', 'note', 'fail'].map(variable);
    for (const ground of grounds)
      for (const ink of inks) expect(ratio(ink, ground), `${ink} on ${ground}`).toBeGreaterThan(4.5);
    for (const ink of [INK, FAIL_INK, NOTE_INK, QUIET_INK])
      for (const ground of ['#ffffff', '#dbe6ee', '#fff3d6'])
        expect(ratio(ink, ground), `${ink} on ${ground}`).toBeGreaterThan(4.5);
    expect(ratio('#dfe5ea', variable('ink'))).toBeGreaterThan(4.5);
    expect(ratio('#ffffff', FAIL_INK)).toBeGreaterThan(4.5);
  });
});
