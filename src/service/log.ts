/** The service's log: one JSON object a line. It never holds what a drawing holds, and names of drawings only where asked for. */

import { pino } from 'pino';

export type ServiceLog = (
  level: 'info' | 'warn' | 'error',
  words: string,
  about: Readonly<Record<string, unknown>>,
) => void;

/** Writes to a file descriptor, at once. */
export const logTo = (fd: number): ServiceLog => {
  const logger = pino(
    { base: null, timestamp: pino.stdTimeFunctions.isoTime, formatters: { level: (label) => ({ level: label }) } },
    pino.destination({ fd, sync: true }),
  );
  return (level, words, about) => logger[level](about, words);
};

/** Takes names of drawings out of what is said. */
export const withoutNames =
  (log: ServiceLog): ServiceLog =>
  (level, words, { fileName: _, ...about }) =>
    log(level, words, about);
