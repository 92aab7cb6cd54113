import { spawn, spawnSync } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { fileURLToPath } from 'node:url'
import { ladderLayout } from '../../analysis/layout/ladder-layout.js'
import type { LadderDesign } from '../../analysis/layout/schema.js'
import type { PeerReading } from './peer-reading.js'

const SCRIPT = fileURLToPath(new URL('skimage/read_photo.py', import.meta.url))

/** The scikit-image script, kept running so that its imports count for nothing. */
export interface SkimagePeer {
  /** Reads a photograph: what the reading alone took, and what it found. */
  read(photo: string): Promise<{ readonly wallMs: number; readonly cpuMs: number; readonly reading: PeerReading }>
  stop(): void
}

/** A Python with scikit-image and scipy; undefined where there is none. */
export const skimagePython = (): string | undefined =>
  ['python3', '/usr/bin/python3'].find(
    (name) => spawnSync(name, ['-c', 'import scipy, skimage'], { stdio: 'ignore' }).status === 0,
  )

/** Starts the script for the photographs of one ladder. */
export async function startSkimagePeer(python: string, design: LadderDesign): Promise<SkimagePeer> {
  const folder = mkdtempSync(join(tmpdir(), 'peer-'))
  const layout = join(folder, 'layout.json')
  writeFileSync(layout, JSON.stringify(ladderLayout(design)))
  const child = spawn(python, ['-B', '-W', 'ignore', SCRIPT, layout], { stdio: ['pipe', 'pipe', 'inherit'] })
  const lines = createInterface({ input: child.stdout })[Symbol.asyncIterator]()
  const next = async () => {
    const line = await lines.next()
    if (line.done) throw new Error('the scikit-image script ended')
    return line.value
  }
  await next()
  return {
    read: async (photo) => {
      child.stdin.write(`${photo}\n`)
      return JSON.parse(await next()) as Awaited<ReturnType<SkimagePeer['read']>>
    },
    stop: () => {
      child.stdin.end()
      void once(child, 'exit').then(() => rmSync(folder, { recursive: true }))
    },
  }
}
