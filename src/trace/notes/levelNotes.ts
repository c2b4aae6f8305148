/** The notes of levels that can be used, each with its value and the walls that it is near; and what the others leave open. */

import { type Finding, finding } from '../../ground/findings.js';
import { compareText } from '../../ground/order.js';
import type { Vec } from '../../ground/plane.js';
import type { LengthUnit } from '../../ground/units.js';
import { footingDepthsMm, readFootings } from './footings.js';
import { type Host, type NearWalls, nearestWall } from './hosts.js';
import { type LevelReading, levelCandidatesMm, readLevels } from './levels.js';
import { isSheetNote, readAll } from './parts.js';
import type { PlacedText } from './places.js';
import { asWritten, jobPoint, levelWords, placeOf, quoted } from './say.js';

export type LevelKind = 'footing' | 'top';

export interface LevelSpot {
  readonly at: Vec;
  readonly near: NearWalls | null;
}

export interface LevelNote {
  readonly kind: LevelKind;
  readonly mm: number;
  /** Said of all that is not marked otherwise. */
  readonly general: boolean;
  /** As it is written, on one line. */
  readonly text: string;
  readonly source: string;
  readonly spots: readonly LevelSpot[];
}

/** How far from a wall a note may stand or point and still be for that wall, mm. *Practice, no source.* */
export const NOTE_REACH_MM = 1500;

interface Read {
  readonly placed: PlacedText;
  readonly reading: LevelReading;
  readonly candidates: readonly number[];
}

const KIND: Partial<Record<LevelReading['of'], LevelKind>> = {
  'wall-top': 'top',
  'footing-top': 'footing',
  'wall-bottom': 'footing',
};
const NAME: Readonly<Record<LevelKind, string>> = { footing: 'top of footing', top: 'top of wall' };
export const kindName = (kind: LevelKind): string => NAME[kind];

const readTexts = (texts: readonly PlacedText[], unit: LengthUnit): Read[] => {
  const known = new Map<string, readonly LevelReading[]>();
  return texts.flatMap((placed) => {
    const readings = known.get(placed.text) ?? readAll(placed.text, readLevels);
    known.set(placed.text, readings);
    return readings.map((reading) => ({ placed, reading, candidates: levelCandidatesMm(reading, unit) }));
  });
};

/** The one depth of footings that the drawing notes; null: none, or several. */
const onlyDepth = (texts: readonly PlacedText[], unit: LengthUnit): { mm: number; text: string } | null => {
  const depths = new Map<number, string>();
  for (const t of texts)
    for (const reading of readAll(t.text, readFootings)) {
      const mm = footingDepthsMm(reading, unit)[0];
      if (mm === undefined) continue;
      const before = depths.get(mm);
      if (before === undefined || compareText(reading.raw, before) < 0) depths.set(mm, reading.raw);
    }
  const [only] = depths;
  return depths.size === 1 ? { mm: only![0], text: only![1] } : null;
};

/** One finding for each wording, at its first place. */
const onePerText = (reads: readonly Read[], make: (first: Read, count: number) => Finding): Finding[] => {
  const groups = new Map<string, Read[]>();
  for (const r of reads) groups.set(r.reading.raw, [...(groups.get(r.reading.raw) ?? []), r]);
  return [...groups.values()].map((list) => make(list[0]!, list.length));
};

const times = (count: number): string => (count > 1 ? ` (and ${count - 1} more like it)` : '');

export interface LevelNotes {
  readonly notes: readonly LevelNote[];
  readonly findings: readonly Finding[];
}

/**
 * Reads the levels of all texts.
 *
 * @param texts in their documented order
 * @param hosts the walls
 */
export const levelNotes = (texts: readonly PlacedText[], hosts: readonly Host[], unit: LengthUnit): LevelNotes => {
  const reads = readTexts(texts, unit);
  const findings: Finding[] = [];
  const sure = new Set(reads.filter((r) => r.candidates.length === 1).map((r) => r.candidates[0]!));
  const likeliest = (r: Read): number => r.candidates.find((mm) => sure.has(mm)) ?? r.candidates[0]!;
  const spotsOf = (t: PlacedText): LevelSpot[] =>
    t.at.map((at) => ({
      at,
      near: isSheetNote(t.text) && !t.byLeader ? null : nearestWall(at, hosts, NOTE_REACH_MM),
    }));
  const noteOf = (r: Read, kind: LevelKind, mm: number): LevelNote => ({
    kind,
    mm,
    general: r.reading.general,
    text: asWritten(r.placed.text, r.reading.raw),
    source: r.placed.source,
    spots: spotsOf(r.placed),
  });
  const usable = reads.filter((r) => !r.reading.relative && r.candidates.length > 0);

  const notes: LevelNote[] = usable.flatMap((r) => {
    const kind = KIND[r.reading.of];
    return kind === undefined ? [] : [noteOf(r, kind, likeliest(r))];
  });

  // Top of concrete is the wall's where nothing else gives the wall's and it lies above every footing.
  const concrete = usable.filter((r) => r.reading.of === 'concrete-top');
  const footings = notes.filter((n) => n.kind === 'footing').map((n) => n.mm);
  const isWallTop = (r: Read): boolean =>
    !notes.some((n) => n.kind === 'top') && footings.every((mm) => likeliest(r) > mm + 100);
  const tops = concrete.filter(isWallTop);
  findings.push(
    ...onePerText(tops, (r, n) =>
      finding(
        'trace.level-unclear',
        `${quoted(r.reading.raw)}${times(n)} gives the top of concrete at ${levelWords(likeliest(r))} without saying whether of wall or footing.`,
        { at: placeOf(r.placed.at[0]!, likeliest(r)), subject: r.placed.source, assumed: 'it is the top of the wall' },
      ),
    ),
  );
  const tallNotes = tops.map((r) => noteOf(r, 'top', likeliest(r)));

  findings.push(...bottomFindings(usable, texts, unit, likeliest, (r, mm) => notes.push(noteOf(r, 'footing', mm))));

  const unsaid = [...usable.filter((r) => r.reading.of === 'unknown'), ...concrete.filter((r) => !tops.includes(r))];
  findings.push(
    ...unsaidFindings(unsaid, (r) => spotsOf(r.placed).some((s) => s.near !== null), likeliest, unit),
    ...onePerText(
      reads.filter((r) => r.reading.relative && KIND[r.reading.of] !== undefined),
      (r, n) =>
        finding(
          'trace.level-unclear',
          `${quoted(r.placed.text)}${times(n)} gives the ${NAME[KIND[r.reading.of]!]} measured from something else; it was not used. Give levels.footingMm or levels.topMm in the job file.`,
          { at: placeOf(r.placed.at[0]!), subject: r.placed.source },
        ),
    ),
    ...onePerText(
      usable.filter((r) => KIND[r.reading.of] !== undefined && r.candidates.length > 1 && !sure.has(likeliest(r))),
      (r, n) =>
        finding(
          'trace.level-unclear',
          `${quoted(r.reading.raw)}${times(n)} can be read as ${r.candidates.slice(0, 3).map(levelWords).join(' or ')}.`,
          {
            at: placeOf(r.placed.at[0]!, likeliest(r)),
            subject: r.placed.source,
            assumed: `${NAME[KIND[r.reading.of]!]} at ${levelWords(likeliest(r))}`,
          },
        ),
    ),
  );
  return { notes: [...notes, ...tallNotes], findings };
};

/** Levels of nothing said: those near a wall by their wording, the others counted. */
const unsaidFindings = (
  unsaid: readonly Read[],
  isNear: (r: Read) => boolean,
  likeliest: (r: Read) => number,
  unit: LengthUnit,
): Finding[] => {
  const near = unsaid.filter(isNear);
  const listed = onePerText(near, (r, n) => {
    const at = r.placed.at[0]!;
    const message =
      `${quoted(r.reading.raw)}${times(n)} gives the level ${levelWords(likeliest(r))} but not of what; it was not used. If it is of a wall, put into the job file under levels.at: ` +
      `near: ${jobPoint(at, unit)}, and footingMm or topMm.`;
    return finding('trace.level-unclear', message, { at: placeOf(at, likeliest(r)), subject: r.placed.source });
  });
  const rest = unsaid.filter((r) => !isNear(r));
  const example = rest[0];
  if (!example) return listed;
  const message = `${rest.length} levels far from any wall are written without saying of what, such as ${quoted(example.reading.raw)}; they were not used.`;
  const at = placeOf(example.placed.at[0]!, likeliest(example));
  return [...listed, finding('trace.level-unclear', message, { at, severity: 'note' })];
};

/** A footing's bottom gives its top where the same text, or the only footing noted, has a depth. */
const bottomFindings = (
  usable: readonly Read[],
  texts: readonly PlacedText[],
  unit: LengthUnit,
  likeliest: (r: Read) => number,
  take: (r: Read, mm: number) => void,
): Finding[] => {
  const bottoms = usable.filter((r) => r.reading.of === 'footing-bottom');
  if (bottoms.length === 0) return [];
  const general = onlyDepth(texts, unit);
  const depthOf = (r: Read) => {
    const own = readAll(r.placed.text, readFootings)
      .map((f) => ({ mm: footingDepthsMm(f, unit)[0], text: f.raw }))
      .find((d) => d.mm !== undefined);
    return own ? { mm: own.mm!, text: own.text } : general;
  };
  for (const r of bottoms) {
    const depth = depthOf(r);
    if (depth) take(r, likeliest(r) + depth.mm);
  }
  return onePerText(bottoms, (r, n) => {
    const depth = depthOf(r);
    const at = placeOf(r.placed.at[0]!, likeliest(r));
    const says = `${quoted(r.reading.raw)}${times(n)} gives the bottom of the footing at ${levelWords(likeliest(r))}`;
    if (!depth) {
      const message = `${says}, and no note, or more than one, tells how deep it is; its top is not known. Give levels.footingMm or levels.at in the job file.`;
      return finding('trace.footing-bottom', message, { at, subject: r.placed.source });
    }
    const mm = likeliest(r) + depth.mm;
    return finding('trace.footing-bottom', `${says}, and ${quoted(depth.text)} its depth.`, {
      at,
      subject: r.placed.source,
      assumed: `top of footing at ${levelWords(mm)}`,
    });
  });
};
