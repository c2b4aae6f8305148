/** Resolves when the program is asked to end, also by a terminal that is closed. A second time ends it at once: nothing is lost by that. */
export const untilAsked = (): Promise<void> =>
  new Promise((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.once(signal, () => resolve());
  });
