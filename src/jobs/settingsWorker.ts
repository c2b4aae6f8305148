/** The thread in which one text of settings is parsed. */

import { parentPort, workerData } from 'node:worker_threads';
import { parseSettings } from './files.js';
import { Refusal } from './refusal.js';
import type { ParsedSettings, SettingsText } from './settingsThread.js';

const say = (message: ParsedSettings): void => parentPort?.postMessage(message);

const { text, name } = workerData as SettingsText;
try {
  say({ kind: 'value', value: parseSettings(text, name) });
} catch (error) {
  if (!(error instanceof Refusal)) throw error;
  say({ kind: 'refused', message: error.message });
}
