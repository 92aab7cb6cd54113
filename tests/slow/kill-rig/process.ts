import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { createInterface } from 'node:readline'
import { fileURLToPath } from 'node:url'

const here = (name: string) => fileURLToPath(new URL(name, import.meta.url))
const CLI = here('../../../dist/server/cli.js')

export interface Victim {
  /** Resolves to the first line that matches, now or later. */
  line(pattern: RegExp): Promise<string>
  /** Tells it something on standard input. */
  tell(line: string): void
  /** Ends it as a power cut would: without a word. */
  kill(): Promise<void>
  /** Resolves to the exit code; null when it was killed. */
  readonly ended: Promise<number | null>
  errors(): string
}

function start(args: readonly string[]): Victim {
  const child = spawn(process.execPath, args, { stdio: ['pipe', 'pipe', 'pipe'] })
  const lines: string[] = []
  let heard = () => {}
  let errors = ''
  createInterface({ input: child.stdout }).on('line', (line) => {
    lines.push(line)
    heard()
  })
  child.stderr.on('data', (text) => (errors += text))
  child.stdin.on('error', () => undefined)
  const ended = once(child, 'close').then(([code]) => code as number | null)
  return {
    ended,
    errors: () => errors,
    tell: (line) => void child.stdin.write(`${line}\n`),
    kill: async () => {
      child.kill('SIGKILL')
      await ended
    },
    line: (pattern) =>
      new Promise((resolve, reject) => {
        heard = () => {
          const found = lines.find((line) => pattern.test(line))
          if (found !== undefined) resolve(found)
        }
        heard()
        void ended.then(() => reject(new Error(`ended without ${pattern}: ${lines.join('\n')}\n${errors}`)))
      }),
  }
}

/** A service that has loaded and waits for its data folder. @param resultFile what it takes every photograph for */
export const startService = (resultFile: string | undefined) =>
  start([here('serve.mjs'), ...(resultFile === undefined ? [] : [resultFile])])

export const startCommand = (...args: readonly string[]) => start([CLI, ...args])
