/** The service's log: one JSON object a line. It never holds what a drawing holds, and names of drawings only where asked for. */

import { writeSync } from 'node:fs';
import { pino } from 'pino';

export type ServiceLog = (
  level: 'info' | 'warn' | 'error',
  words: string,
  about: Readonly<Record<string, unknown>>,
) => void;

/** What cannot be written is lost: the service must not end because the disk of its log is full, or nobody reads it any more. */
const to = (fd: number) => ({
  write: (line: string): void => {
    try {
      const bytes = Buffer.from(line);
      for (let at = 0; at < bytes.length; ) at += writeSync(fd, bytes, at);
    } catch {}
  },
});

/** Writes to a file descriptor, at once. */
export const logTo = (fd: number): ServiceLog => {
  const logger = pino(
    { base: null, timestamp: pino.stdTimeFunctions.isoTime, formatters: { level: (label) => ({ level: label }) } },
    to(fd),
  );
  return (level, words, about) => logger[level](about, words);
};

/** Takes names of drawings out of what is said. */
export const withoutNames =
  (log: ServiceLog): ServiceLog =>
  (level, words, { fileName: _, ...about }) =>
    log(level, words, about);
