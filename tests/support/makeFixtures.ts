/** Writes the drawings and models of fixtures/ from the scenes: `npx tsx tests/support/makeFixtures.ts`. A test holds the files against them. */

import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import { cornerHouseModel, ifcText } from './houseModel.js';
import {
  cornerHouse,
  garageHouse,
  halfTurn,
  hillsideStore,
  inchCellar,
  noWalls,
  pumpHouse,
  thicker,
  weirStore,
} from './scenes.js';
import { dxfText } from './sheet.js';

const bytesOf = (text: string): Uint8Array => Uint8Array.from(text, (c) => c.charCodeAt(0));
const house = dxfText(cornerHouse);
/** Where the n-th outline of the house begins: 4 is the garden wall. */
const outlineAt = (n: number): number => house.split('LWPOLYLINE').slice(0, n).join('LWPOLYLINE').length;

/** Path under fixtures/ → bytes. */
export const fixtureFiles: Readonly<Record<string, Uint8Array>> = {
  '01-corner-house/corner-house.dxf': bytesOf(house),
  '02-parallel-lines-in-inches/marlow-cellar.dxf': bytesOf(dxfText(inchCellar)),
  '03-broken-inputs/empty.dxf': bytesOf(''),
  '03-broken-inputs/cut-in-header.dxf': bytesOf(house.slice(0, house.indexOf('$HANDSEED') + 4)),
  '03-broken-inputs/cut-in-entities.dxf': bytesOf(house.slice(0, outlineAt(4) + 100)),
  '03-broken-inputs/zip.dxf': bytesOf(`PK\x03\x04\x14\x00\x00\x00\x08\x00${'\x00'.repeat(30)}plan.dxf`),
  '03-broken-inputs/drawing-of-another-format.dxf': bytesOf(`AC1032\x00\x00\x00\x00\x00\x06\x03${'\x00'.repeat(100)}`),
  '03-broken-inputs/unknown-bytes.dxf': Uint8Array.from({ length: 400 }, (_, i) => (i * 73 + 41) % 256),
  '04-no-walls/notes-only.dxf': bytesOf(dxfText(noWalls)),
  '05-corner-of-45-degrees/half-turn.dxf': bytesOf(dxfText(halfTurn)),
  '06-change-of-thickness/thicker.dxf': bytesOf(dxfText(thicker)),
  '07-questions-to-answer/weir-store.dxf': bytesOf(dxfText(weirStore)),
  '08-house-as-model/corner-house.ifc': bytesOf(ifcText(cornerHouseModel)),
  '09-steps-on-a-slope/hillside-store.dxf': bytesOf(dxfText(hillsideStore)),
  '12-pilasters/pump-house.dxf': bytesOf(dxfText(pumpHouse)),
  '13-walls-of-different-levels/garage-house.dxf': bytesOf(dxfText(garageHouse)),
};

export const FIXTURES = fileURLToPath(new URL('../../fixtures/', import.meta.url));

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  for (const [path, bytes] of Object.entries(fixtureFiles)) {
    mkdirSync(dirname(FIXTURES + path), { recursive: true });
    writeFileSync(FIXTURES + path, bytes);
  }
}
