/** One line on stderr for each thing that happens, with its time. */
export const log = (level: string, words: string, about: Readonly<Record<string, unknown>>): void => {
  const facts = Object.entries(about).map(([name, value]) => ` ${name}=${String(value)}`);
  process.stderr.write(`${new Date().toISOString()} ${level} ${words}${facts.join('')}\n`);
};
