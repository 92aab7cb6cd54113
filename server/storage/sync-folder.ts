import { mkdir, open } from 'node:fs/promises'
import { dirname, resolve } from 'node:path'

/** A name is on the disk only when its folder is, too. */
export async function syncFolder(folder: string): Promise<void> {
  // Windows writes names at once and opens no folder.
  if (process.platform === 'win32') return
  const handle = await open(folder, 'r')
  try {
    await handle.sync()
  } finally {
    await handle.close()
  }
}

/** Makes a folder, and those above it, so that they outlast a power cut. */
export async function makeFolder(folder: string): Promise<void> {
  const first = await mkdir(folder, { recursive: true })
  if (first === undefined) return
  for (let made = resolve(folder); ; made = dirname(made)) {
    await syncFolder(dirname(made))
    if (made === resolve(first)) return
  }
}
