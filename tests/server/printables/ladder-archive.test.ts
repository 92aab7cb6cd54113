import { strFromU8, unzipSync } from 'fflate'
import { beforeAll, expect, it } from 'vitest'
import { ladderLayout } from '../../../analysis/index.js'
import { couponStl, ladderArchive } from '../../../server/printables/index.js'

const layout = ladderLayout({ ladderId: 'K7Q2XN', layerHeightUm: 50, pixelPitchUm: 34, exposuresS: [1.6, 2, 2.55] })

let files: Record<string, Uint8Array>
beforeAll(async () => {
  files = unzipSync(await ladderArchive(layout, { seed: 'K7Q2XN' }))
})

it('holds every rung in both formats, the card on both papers and the print order', () => {
  const rungs = ['1-1.6s', '2-2s', '3-2.55s'].flatMap((rung) => [`K7Q2XN-rung-${rung}.3mf`, `K7Q2XN-rung-${rung}.stl`])
  const names = ['card-a4.pdf', 'card-letter.pdf', 'print-order.txt', ...rungs].map(
    (name) => `stepglass-K7Q2XN/${name}`,
  )
  expect(
    Object.keys(files)
      .filter((name) => !name.endsWith('/'))
      .sort(),
  ).toEqual(names.sort())
})

it('holds the same solids that are handed out one by one', async () => {
  expect(files['stepglass-K7Q2XN/K7Q2XN-rung-3-2.55s.stl']).toEqual(await couponStl(layout, 3))
})

it('tells each rung and its exposure once, and the cautions', () => {
  const note = strFromU8(files['stepglass-K7Q2XN/print-order.txt']!)
  for (const [i, exposureS] of [1.6, 2, 2.55].entries())
    expect(note.match(new RegExp(`rung ${i + 1} +layer exposure ${exposureS} s$`, 'gm'))).toHaveLength(1)
  expect(note).toMatch(/gloves and goggles/)
  expect(Math.max(...note.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80)
})
