/** The flag at which the setting of a face begins, with the direction in which it goes: the list is in the same order. */

import { add, scale, type Vec } from '../../ground/plane.js';
import type { SettingRow } from '../../ground/vocabulary.js';
import type { LayerKey } from './layers.js';
import type { Scene } from './scene.js';
import { line, type Shape } from './sheet.js';

export interface SettingStart {
  readonly stationMm: number;
  /** In which stations the setting goes on. */
  readonly direction: 1 | -1;
  readonly piece: string;
}

const firstOf = (rows: readonly SettingRow[]): SettingStart | null => {
  const [first] = rows;
  if (!first) return null;
  const next = rows.find((r) => r.fromMm !== first.fromMm);
  const direction = next && next.fromMm < first.fromMm ? -1 : 1;
  return { stationMm: direction > 0 ? first.fromMm : first.toMm, direction, piece: first.piece };
};

/** Where the setting of a face starts; null where nothing is set on it. */
export const settingStart = (scene: Scene, face: string): SettingStart | null => {
  const rows = (scene.result.schedule.setting ?? []).filter((r) => r.face === face && r.course >= 1);
  return firstOf(rows.filter((r) => r.course === rows[0]!.course && r.toMm > r.fromMm));
};

/** Where the setting of each pour starts, of the whole job where it is poured at once: the first row of its list. */
export const pourStarts = (
  scene: Scene,
): { readonly pour: string | null; readonly face: string; readonly start: SettingStart }[] => {
  const { plan, schedule } = scene.result;
  const wallOf = new Map(plan.walls.map((w) => [w.id, w]));
  const pours: readonly (string | null)[] = plan.pours ?? [null];
  return pours.flatMap((pour) => {
    const first = (schedule.setting ?? []).find(
      (r) => r.face !== '' && r.course >= 1 && (pour === null || wallOf.get(r.wall)?.pour === pour),
    );
    const start = first && settingStart(scene, first.face);
    return start ? [{ pour, face: first.face, start }] : [];
  });
};

/** Height of the flag's staff, and length of its arrow, mm of the model at the usual height of texts. */
export const FLAG_HIGH_MM = 240;
export const FLAG_LONG_MM = 340;

/** A flag on its staff at `at`, an arrow at its foot in direction `x`; `up` is the way of the staff, `factor` by how much it is larger than usual. */
export const flagShapes = (
  layer: LayerKey | null,
  at: Vec,
  x: Vec,
  up: Vec,
  factor: number,
  about: readonly string[] = [],
): Shape[] => {
  const p = (dx: number, dy: number): Vec => add(at, scale(add(scale(x, dx), scale(up, dy)), factor));
  const solid = (corners: readonly Vec[]): Shape => ({ type: 'solid', layer, about, corners });
  return [
    line(layer, p(0, -40), p(0, FLAG_HIGH_MM), about),
    solid([p(0, FLAG_HIGH_MM), p(0, FLAG_HIGH_MM / 2), p(150, FLAG_HIGH_MM * 0.75)]),
    line(layer, p(0, 0), p(FLAG_LONG_MM - 90, 0), about),
    solid([p(FLAG_LONG_MM, 0), p(FLAG_LONG_MM - 100, 35), p(FLAG_LONG_MM - 100, -35)]),
  ];
};
