import type { ErrorReply } from '../api/common.js'

/** What is wrong with the place where everything is kept. */
export interface Trouble {
  readonly statusCode: number
  readonly reply: ErrorReply
}

const READABLE = 'Nothing that was acknowledged is lost, and what is stored can be looked at meanwhile.'

const FULL: Trouble = {
  statusCode: 507,
  reply: {
    code: 'disk-full',
    message: 'The disk of the data folder is full.',
    advice: `Free some room on it, then try again. ${READABLE}`,
  },
}

const READ_ONLY: Trouble = {
  statusCode: 503,
  reply: {
    code: 'data-read-only',
    message: 'The data folder cannot be written to.',
    advice: `Let the user who runs Stepglass write there; a disk that turned read-only by itself may be failing. ${READABLE}`,
  },
}

export const DAMAGED: Trouble = {
  statusCode: 500,
  reply: {
    code: 'database-damaged',
    message: 'A part of the database is damaged.',
    advice:
      'Restore the last backup into an empty folder (stepglass restore FILE --into FOLDER) and keep the damaged one; what can still be read stays readable.',
  },
}

const DATABASE_DAMAGED: Trouble = {
  statusCode: 500,
  reply: {
    ...DAMAGED.reply,
    advice:
      'Restore the last backup of PostgreSQL, and keep the damaged database; what can still be read stays readable.',
  },
}

const FAILING: Trouble = {
  statusCode: 503,
  reply: {
    code: 'disk-failing',
    message: 'The disk of the data folder does not do as it is told.',
    advice: 'Check the disk and its cable, back the data up to another one, then start Stepglass again.',
  },
}

const DATABASE_FULL: Trouble = {
  statusCode: 507,
  reply: { ...FULL.reply, code: 'database-full', message: 'The disk of the database is full.' },
}

const DATABASE_READ_ONLY: Trouble = {
  statusCode: 503,
  reply: {
    code: 'database-read-only',
    message: 'The database takes no changes.',
    advice: `Let DATABASE_URL lead to the server that takes them, not to a copy of it. ${READABLE}`,
  },
}

const DATABASE_AWAY: Trouble = {
  statusCode: 503,
  reply: {
    code: 'database-away',
    message: 'The database does not answer.',
    advice:
      'Start it, or see to the network between here and there, then try again. Nothing that was acknowledged is lost.',
  },
}

/** By the system's names. */
const SYSTEM: Readonly<Record<string, Trouble>> = {
  ENOSPC: FULL,
  EDQUOT: FULL,
  EFBIG: FULL,
  EROFS: READ_ONLY,
  EACCES: READ_ONLY,
  EPERM: READ_ONLY,
  EIO: FAILING,
  ...Object.fromEntries(
    ['ECONNREFUSED', 'ECONNRESET', 'EHOSTUNREACH', 'ENETUNREACH', 'ENOTFOUND', 'EAI_AGAIN', 'ETIMEDOUT', 'EPIPE'].map(
      (code) => [code, DATABASE_AWAY],
    ),
  ),
}

/** By PostgreSQL's codes (https://www.postgresql.org/docs/current/errcodes-appendix.html). */
const POSTGRES: Readonly<Record<string, Trouble>> = {
  '53100': DATABASE_FULL,
  '25006': DATABASE_READ_ONLY,
  XX001: DATABASE_DAMAGED,
  XX002: DATABASE_DAMAGED,
  '53300': DATABASE_AWAY,
  '57P01': DATABASE_AWAY,
  '57P02': DATABASE_AWAY,
  '57P03': DATABASE_AWAY,
  '08006': DATABASE_AWAY,
}

/** What its driver says without a code. */
const BROKEN_CONNECTION =
  /^(Connection terminated|timeout exceeded when trying to connect|Client has encountered a connection error)/

/** By what SQLite says of its result codes: its package does not give the code each time (https://sqlite.org/rescode.html). */
const SQLITE: readonly (readonly [string, Trouble])[] = [
  ['database or disk is full', FULL],
  ['readonly database', READ_ONLY],
  ['disk image is malformed', DAMAGED],
  ['file is not a database', DAMAGED],
  ['disk I/O error', FAILING],
  ['unable to open database file', FAILING],
]

/** What is wrong with the disk or the database, if that is why something failed. */
export function storageTrouble(error: unknown): Trouble | undefined {
  if (!(error instanceof Error)) return undefined
  const { code = '', message } = error as NodeJS.ErrnoException
  if (code === 'ERR_SQLITE_ERROR') return SQLITE.find(([words]) => message.includes(words))?.[1]
  // Whoever was sending something broke off.
  if (message === 'aborted') return undefined
  if (BROKEN_CONNECTION.test(message)) return DATABASE_AWAY
  return SYSTEM[code] ?? POSTGRES[code] ?? storageTrouble(error.cause)
}
