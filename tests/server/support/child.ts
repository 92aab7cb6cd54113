import { spawn, type ChildProcess } from 'node:child_process'
import { once } from 'node:events'
import { createInterface } from 'node:readline'
import { fileURLToPath } from 'node:url'
import { onTestFinished } from 'vitest'

export interface Child {
  readonly process: ChildProcess
  /** Resolves to the first line of standard output that matches. */
  line(pattern: RegExp): Promise<RegExpExecArray>
  /** Resolves to exit code and signal once the process has ended. */
  readonly ended: Promise<[code: number | null, signal: NodeJS.Signals | null]>
  /** What came on standard output so far. */
  output(): string
  /** What came on standard error so far. */
  errors(): string
}

/** Runs a program in a process of its own, which does not outlive the test. */
export function runFile(file: URL, args: readonly string[] = [], env: NodeJS.ProcessEnv = {}): Child {
  const loader = file.href.endsWith('.ts') ? ['--import', 'tsx'] : []
  const child = spawn(process.execPath, [...loader, fileURLToPath(file), ...args], {
    env: { ...process.env, ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  onTestFinished(() => void child.kill('SIGKILL'))
  const lines: string[] = []
  let errors = ''
  let heard = () => {}
  createInterface({ input: child.stdout }).on('line', (line) => {
    lines.push(line)
    heard()
  })
  child.stderr.on('data', (text) => (errors += text))
  const ended = once(child, 'close') as Promise<[number | null, NodeJS.Signals | null]>

  return {
    process: child,
    ended,
    output: () => lines.join('\n'),
    errors: () => errors,
    line: (pattern) =>
      new Promise((resolve, reject) => {
        heard = () => {
          const found = lines.map((line) => pattern.exec(line)).find((match) => match !== null)
          if (found) resolve(found)
        }
        heard()
        void ended.then(() => reject(new Error(`ended without ${pattern}: ${lines.join('\n')}\n${errors}`)))
      }),
  }
}
