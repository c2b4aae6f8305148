/** The version of the program, as package.json has it (a test compares), so that drawings can say what made them. */
export const PROGRAM_VERSION = '0.1.0';
