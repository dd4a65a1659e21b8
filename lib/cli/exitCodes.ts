/** What the command line ends with. */
export const ALL_DONE = 0;
export const PROGRAM_FAILED = 1;
export const BAD_INPUT = 2;
