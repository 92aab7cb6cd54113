import { fork, type ChildProcess } from 'node:child_process'
import { writeFile } from 'node:fs/promises'
import type { Socket } from 'node:net'
import { fileURLToPath } from 'node:url'
import { watchMemory } from './watch-memory.js'

/** What a process is asked: the default export of a module, called with this. */
export interface Order {
  readonly module: string
  readonly task: unknown
}

/** What it says, the last word being `done` or `failed`. */
export type Word = { readonly note: unknown } | { readonly done: unknown } | { readonly failed: string }

export interface ProcessPoolOptions {
  /** Tasks done at the same time, each in a process of its own. */
  readonly processes: number
  /** What one task may take before its process is killed. */
  readonly timeLimitMs: number
  /** What the JavaScript objects of a process may fill. */
  readonly heapMb: number
  /** What a process may fill altogether; watched on Linux only. */
  readonly memoryMb: number
  /** Tasks that may wait for a process. */
  readonly maxWaiting: number
}

/** Why a task gave nothing. */
export class TaskError extends Error {
  readonly reason: 'took-too-long' | 'too-much-memory' | 'ended' | 'threw' | 'busy' | 'closed'

  constructor(reason: TaskError['reason'], detail: string) {
    super(detail)
    this.reason = reason
  }
}

interface Job {
  readonly order: Order
  readonly onNote: (note: unknown) => void
  readonly resolve: (result: unknown) => void
  readonly reject: (error: TaskError) => void
}

/** A process holds on to the memory of its largest task; only its end gives that back. */
const IDLE_MS = 10 * 60_000
const LAST_WORDS = 2000
const fromSource = import.meta.url.endsWith('.ts')
const program = fileURLToPath(new URL(`./run-tasks.${fromSource ? 'ts' : 'js'}`, import.meta.url))

/** All that a process learns of its surroundings: no passphrase, no address of a database. */
const PASSED_ON = ['PATH', 'TZ', 'LANG', 'LC_ALL', 'TMPDIR', 'TEMP', 'TMP', 'SystemRoot']
const surroundings = () => Object.fromEntries(PASSED_ON.map((name) => [name, process.env[name]]))

/** MB of short-lived objects before they are cleared away: the default of 16 is cleared ten times a photograph. */
const YOUNG_MB = 64

/** One process: what it is doing, and what became of it. */
function startProcess({ heapMb, memoryMb, timeLimitMs }: ProcessPoolOptions, onFree: () => void, onEnd: () => void) {
  const child: ChildProcess = fork(program, {
    execArgv: [
      `--max-old-space-size=${heapMb}`,
      `--min-semi-space-size=${YOUNG_MB}`,
      `--max-semi-space-size=${YOUNG_MB}`,
      ...(fromSource ? ['--import', import.meta.resolve('tsx')] : []),
    ],
    env: surroundings(),
    serialization: 'advanced',
    stdio: ['ignore', 'ignore', 'pipe', 'ipc'],
  })
  let job: Job | undefined
  let killed = false
  let killedFor: TaskError | undefined
  let lastWords = ''
  let timer: NodeJS.Timeout | undefined

  const kill = (why?: TaskError) => {
    killed = true
    killedFor ??= why
    // Its end is waited for.
    keepAlive('ref')
    child.kill('SIGKILL')
  }
  const memory = watchMemory(child.pid, memoryMb, (mb) =>
    kill(new TaskError('too-much-memory', `${mb} MB, at most ${memoryMb}`)),
  )
  // When the whole machine runs out of memory, the system is to end this process rather than the service.
  if (process.platform === 'linux') writeFile(`/proc/${child.pid}/oom_score_adj`, '1000').catch(() => undefined)

  function settle(): Job | undefined {
    clearTimeout(timer)
    memory.rest()
    const settled = job
    job = undefined
    return settled
  }
  /** Whoever used the pool may end while a process of it waits for something to do. */
  function keepAlive(how: 'ref' | 'unref'): void {
    child[how]()
    child.channel?.[how]()
    ;(child.stderr as Socket | null)?.[how]()
  }
  function beIdle(): void {
    timer = setTimeout(() => kill(), IDLE_MS).unref()
    keepAlive('unref')
    onFree()
  }
  child.stderr?.on('data', (text) => (lastWords = `${lastWords}${text}`.slice(-LAST_WORDS)))
  child.on('message', (word: Word) => {
    if ('note' in word) return job?.onNote(word.note)
    const settled = settle()
    if ('done' in word) settled?.resolve(word.done)
    else settled?.reject(new TaskError('threw', word.failed))
    beIdle()
  })
  child.on('error', (error) => (lastWords = `${lastWords}${error.message}`))
  child.on('close', (code, signal) => {
    const outOfHeap = lastWords.includes('heap out of memory')
    settle()?.reject(
      killedFor ?? new TaskError(outOfHeap ? 'too-much-memory' : 'ended', `${signal ?? code}: ${lastWords.trim()}`),
    )
    onEnd()
  })

  return {
    kill,
    isFree: () => job === undefined && !killed && child.connected,
    give(next: Job): void {
      clearTimeout(timer)
      keepAlive('ref')
      job = next
      lastWords = ''
      memory.watch()
      const late = () => kill(new TaskError('took-too-long', `more than ${timeLimitMs} ms`))
      timer = setTimeout(late, timeLimitMs)
      child.send(next.order, (error) => error && kill())
    },
  }
}

/**
 * Processes that do tasks and can be killed: what a library written in C makes of a file from a stranger ends one of
 * them, never the service. One that ended is replaced, and its task is rejected with a `TaskError`.
 */
export function openProcessPool(options: ProcessPoolOptions) {
  const running = new Set<ReturnType<typeof startProcess>>()
  const waiting: Job[] = []
  let whenEmpty: (() => void) | undefined
  let closed = false

  function start() {
    const one = startProcess(options, next, () => {
      running.delete(one)
      if (running.size === 0) whenEmpty?.()
      if (!closed) next()
    })
    running.add(one)
    return one
  }
  function next(): void {
    const [job] = waiting
    if (!job) return
    const free = [...running].find((one) => one.isFree()) ?? (running.size < options.processes ? start() : undefined)
    if (!free) return
    waiting.shift()
    free.give(job)
    next()
  }

  return {
    /** @param onNote told what the task tells on its way */
    run<Result>(module: URL, task: object, onNote: (note: unknown) => void = () => undefined): Promise<Result> {
      return new Promise<unknown>((resolve, reject) => {
        if (closed) return reject(new TaskError('closed', 'the pool is closed'))
        if (waiting.length >= options.maxWaiting)
          return reject(new TaskError('busy', `${waiting.length} tasks wait already`))
        waiting.push({ order: { module: module.href, task }, onNote, resolve, reject })
        next()
      }) as Promise<Result>
    },

    /** Kills every process and rejects what was under way. */
    async close(): Promise<void> {
      closed = true
      for (const { reject } of waiting.splice(0)) reject(new TaskError('closed', 'the pool is closed'))
      if (running.size === 0) return
      const ended = new Promise<void>((resolve) => (whenEmpty = resolve))
      for (const one of running) one.kill()
      await ended
    },
  }
}
