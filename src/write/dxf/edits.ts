/** Changes to a list of tags, gathered first and done in one pass, so that places stay what they were while they are gathered. */

import type { Tag } from '../../ground/tags.js';

interface Insertion {
  readonly tags: readonly Tag[];
  readonly rank: number;
}

export class Edits {
  private readonly insertions = new Map<number, Insertion[]>();
  private readonly replacements = new Map<number, Tag>();

  constructor(private readonly tags: readonly Tag[]) {}

  /** Puts tags before the tag at this place; several at one place by rank, then as they came. */
  insert(at: number, tags: readonly Tag[], rank = 0): void {
    const list = this.insertions.get(at);
    if (list) list.push({ tags, rank });
    else this.insertions.set(at, [{ tags, rank }]);
  }

  replace(at: number, tag: Tag): void {
    this.replacements.set(at, tag);
  }

  done(): Tag[] {
    const out: Tag[] = [];
    const put = (at: number): void => {
      const list = this.insertions.get(at);
      if (!list) return;
      for (const { tags } of [...list].sort((a, b) => a.rank - b.rank)) for (const tag of tags) out.push(tag);
    };
    this.tags.forEach((tag, at) => {
      put(at);
      out.push(this.replacements.get(at) ?? tag);
    });
    put(this.tags.length);
    return out;
  }
}
