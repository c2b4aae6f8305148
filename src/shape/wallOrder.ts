/** The order in which walls are numbered: by place, straight and curved ones alike. */

import { byNumber, byText, inOrder } from '../ground/order.js';
import type { Wall } from '../ground/vocabulary.js';

export const byWallPlace = inOrder<Wall>(
  byNumber((w) => w.start.x),
  byNumber((w) => w.start.y),
  byNumber((w) => w.end.x),
  byNumber((w) => w.end.y),
  byNumber((w) => w.thicknessMm),
  byText((w) => w.sources.join(' ')),
);
