import { existsSync } from 'node:fs'
import { basename, extname } from 'node:path'
import { readingReport } from './report/reading-report.js'
import type { Service } from './service.js'
import { reasonText } from './wording.js'

/**
 * Reads the photograph that comes with the program when nothing has been read yet, so that the first start shows what
 * the program does. It is kept, and marked as a simulation.
 *
 * @param say told a line at a time
 */
export async function readDemo({ store, queue }: Service, photo: string, say: (line: string) => void): Promise<void> {
  if (!existsSync(photo) || store.started.trouble || !(await store.isEmpty())) return
  const name = basename(photo)
  say(`Reading ${name}, a simulated photograph of a printed ladder:`)
  const received = await store.files.receiveFile(photo)
  const facts = { name, extension: extname(photo).slice(1), simulated: true }
  const { readingId } = await store.accept(received, facts, {}).finally(() => store.files.discard(received))
  queue.wake()
  for await (const { stage, share } of queue.follow(readingId, new AbortController().signal))
    if (stage) say(`  ${(share * 100).toFixed(0).padStart(3)} %  ${stage}`)
  const reading = await store.readings.get(readingId)
  if (reading?.result) say(`\n${readingReport(name, reading.result)}\n`)
  if (reading?.failure) say(`\n${name}: ${reasonText(reading.failure)}\n`)
}
