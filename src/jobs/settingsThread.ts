/**
 * Settings of strangers: parsed in a thread of their own under limits, since the reader of YAML takes half a minute over some texts of 200 kB (tags or
 * anchors one behind the other) and seconds over many keys. Short texts cannot do that and are parsed at once.
 */

import { Worker } from 'node:worker_threads';
import { parseSettings } from './files.js';
import { Refusal } from './refusal.js';

export interface SettingsText {
  readonly text: string;
  /** What a refusal calls it. */
  readonly name: string;
}

export type ParsedSettings =
  | { readonly kind: 'value'; readonly value: unknown }
  | { readonly kind: 'refused'; readonly message: string };

/** Time grows with the square of the length at worst: 20 ms for this one. */
const SHORT = 4_000;
const TIME_S = 3;
const MEMORY_MB = 256;

/** What a YAML or JSON text holds; rejects with a Refusal. `workerUrl`: the compiled thread; the one beside this file unless said otherwise. */
export const parseSettingsOfStranger = (
  { text, name }: SettingsText,
  workerUrl = new URL('./settingsWorker.js', import.meta.url),
): Promise<unknown> => {
  if (text.length <= SHORT) return new Promise((resolve) => resolve(parseSettings(text, name)));
  return new Promise((resolve, reject) => {
    const worker = new Worker(workerUrl, {
      workerData: { text, name } satisfies SettingsText,
      resourceLimits: { maxOldGenerationSizeMb: MEMORY_MB },
    });
    let isOver = false;
    const end = (settle: () => void) => {
      if (isOver) return;
      isOver = true;
      clearTimeout(timer);
      void worker.terminate().then(settle);
    };
    const refuse = (why: string) => end(() => reject(new Refusal(`${name} ${why}.`)));
    const timer = setTimeout(() => refuse(`takes more than ${TIME_S} s to be read`), TIME_S * 1000);
    worker.on('message', (said: ParsedSettings) =>
      end(() => (said.kind === 'value' ? resolve(said.value) : reject(new Refusal(said.message)))),
    );
    worker.on('error', (error: Error & { code?: string }) => {
      if (error.code === 'ERR_WORKER_OUT_OF_MEMORY') refuse(`needs more than ${MEMORY_MB} MB to be read`);
      else end(() => reject(error));
    });
    worker.on('exit', () => refuse('could not be read'));
  });
};
