import { readdirSync, readlinkSync } from 'node:fs'
import { setTimeout as wait } from 'node:timers/promises'
import { setFlagsFromString } from 'node:v8'
import { runInNewContext } from 'node:vm'

setFlagsFromString('--expose-gc')
const collect = runInNewContext('gc') as () => void

const LONGEST_MS = 5000

/** Files of a folder that this process has open, where the system tells. */
export function openFiles(folder: string): string[] {
  if (process.platform !== 'linux') return []
  return readdirSync('/proc/self/fd').flatMap((descriptor) => {
    try {
      const file = readlinkSync(`/proc/self/fd/${descriptor}`)
      return file.startsWith(`${folder}/`) ? [file] : []
    } catch {
      return []
    }
  })
}

/**
 * Lets go of the databases of a folder that this process has closed: their package ends a connection only when its
 * statements are collected. Until then it takes part, and SQLite does not look at what a killed process left in the log.
 */
export async function letGo(folder: string): Promise<void> {
  for (const start = Date.now(); Date.now() - start < LONGEST_MS; await wait(1)) {
    collect()
    await wait(0)
    if (openFiles(folder).length === 0) return
  }
  throw new Error(`still open: ${openFiles(folder).join()}`)
}
