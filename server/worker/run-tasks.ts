// The program of a process that a pool starts, uses and may kill. Nothing is imported before it can be asked to end:
// whoever stops the service from a terminal signals every process of it, and the pool ends this one when it is time.
import type { Order, Word } from './process-pool.js'

for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, () => undefined)
process.on('disconnect', () => process.exit())

const say = (word: Word) => process.send?.(word)

process.on('message', ({ module, task }: Order) => {
  const work = async () => {
    const { default: run } = (await import(module)) as { default: (task: unknown, tell: typeof note) => unknown }
    return run(task, note)
  }
  const note = (note: unknown) => say({ note })
  work().then(
    (done) => say({ done }),
    (error: unknown) => say({ failed: error instanceof Error ? (error.stack ?? error.message) : String(error) }),
  )
})
