import { access, constants, readFile, writeFile } from 'node:fs/promises'
import { UsageError } from '../usage-error.js'

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file or folder; check the path',
  EISDIR: 'this is a folder; name a file',
  ENOTDIR: 'a part of the path is not a folder; check it',
  EEXIST: 'a file of that name is in the way; choose another name',
  EACCES: 'no permission; check who may read or write it',
  EROFS: 'the disk cannot be written to; choose another place',
  ENOSPC: 'the disk is full; free some room',
}

/** Runs what touches a path; what a person can mend becomes one line that says so. */
export async function withPath<T>(path: string, work: (path: string) => Promise<T>): Promise<T> {
  try {
    return await work(path)
  } catch (error) {
    const reason = REASONS[(error as NodeJS.ErrnoException).code ?? '']
    throw reason === undefined ? error : new UsageError(`${path}: ${reason}`)
  }
}

export const checkReadable = (path: string): Promise<void> => withPath(path, (file) => access(file, constants.R_OK))

export const readBytes = (path: string): Promise<Buffer> => withPath(path, (file) => readFile(file))

/** `-` is standard output; any other path is told there when it is written. */
export async function writeResult(path: string, content: Uint8Array | string): Promise<void> {
  if (path === '-') return void process.stdout.write(content)
  await withPath(path, (file) => writeFile(file, content))
  console.log(path)
}
