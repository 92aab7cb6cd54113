import { spawn, spawnSync } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { fileURLToPath } from 'node:url'
import { ladderLayout } from '../../analysis/layout/ladder-layout.js'
import type { LadderDesign } from '../../analysis/layout/schema.js'
import type { Took } from './interleave.js'

const SCRIPT = fileURLToPath(new URL('../peers/skimage_reader.py', import.meta.url))

/** The scikit-image script, kept running so that its imports count for nothing. */
export interface SkimagePeer {
  /** Measures the photograph once more: what the measuring alone took, and growth per side of each slot, um. */
  run(): Promise<Took & { readonly growthUm: number[] }>
  stop(): void
}

/** @returns undefined where no Python with scikit-image and scipy is installed */
export async function startSkimagePeer(photo: string, design: LadderDesign): Promise<SkimagePeer | undefined> {
  const python = ['python3', '/usr/bin/python3'].find(
    (name) => spawnSync(name, ['-c', 'import scipy, skimage'], { stdio: 'ignore' }).status === 0,
  )
  if (!python) return undefined
  const layout = join(mkdtempSync(join(tmpdir(), 'peer-')), 'layout.json')
  writeFileSync(layout, JSON.stringify(ladderLayout(design)))
  const child = spawn(python, [SCRIPT, layout, photo], { stdio: ['pipe', 'pipe', 'inherit'] })
  const lines = createInterface({ input: child.stdout })
  const next = async () => String((await once(lines, 'line'))[0])
  await next()
  return {
    run: async () => {
      const answer = next()
      child.stdin.write('\n')
      return JSON.parse(await answer) as Took & { growthUm: number[] }
    },
    stop: () => child.stdin.end(),
  }
}
