/** A drawing with nothing in it. */

import type { Drawing } from '../../../src/ground/vocabulary.js';
import { r12, readText } from '../../read/samples.js';

export const emptyDrawing = (): Drawing => readText(r12([])).drawing;
