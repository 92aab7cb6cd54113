/** Something the person who started the program can mend; told in one line, without a stack. */
export class UsageError extends Error {}

/** Tells what ended the program, on standard error, and has it end with 1. */
export function endWith(error: unknown): void {
  console.error(error instanceof UsageError ? `stepglass: ${error.message}` : error)
  process.exitCode = 1
}
