/** Exit codes, and what ends a command with one plain sentence. */

export const EXIT = { laidOut: 0, failures: 1, refused: 2, fault: 3 } as const;
export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

/** Usage or input that cannot be used: exit code 2, and the message is the one sentence that is shown. */
export class Refusal extends Error {}

/** A file that is there and cannot be read, now at least: permission is missing, or somebody holds it. */
export class Unreadable extends Refusal {}

/** Of several drawings the worst decides. */
export const worst = (codes: readonly ExitCode[]): ExitCode => Math.max(EXIT.laidOut, ...codes) as ExitCode;

/** What a person is told of a fault of this program. */
export const faultText = (subject: string, error: unknown): string =>
  `${subject}: shutterwright itself failed; this is a fault of the program, not of the drawing.\n${
    error instanceof Error ? (error.stack ?? error.message) : String(error)
  }\n`;
