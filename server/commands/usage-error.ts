/** Something the person at the terminal can mend; told in one line, without a stack. */
export class UsageError extends Error {}
