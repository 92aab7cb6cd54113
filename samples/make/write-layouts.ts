import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { ladderLayout } from '../../analysis/layout/ladder-layout.js'
import type { LadderDesign } from '../../analysis/layout/schema.js'
import { cardPng } from '../../server/printables/card-png.js'

/** Writes layout and card picture of every simulated ladder: `npx tsx samples/make/write-layouts.ts OUT`. */
const [out] = process.argv.slice(2)
if (out === undefined) throw new TypeError('write-layouts needs a folder to write to, got none')
const file = readFileSync(join(import.meta.dirname, 'ladders.json'), 'utf8')
const { ladders } = JSON.parse(file) as { ladders: Record<string, { design: LadderDesign }> }
for (const [name, { design }] of Object.entries(ladders)) {
  const layout = ladderLayout(design)
  mkdirSync(join(out, name), { recursive: true })
  writeFileSync(join(out, name, 'layout.json'), JSON.stringify(layout))
  writeFileSync(join(out, name, 'card.png'), await cardPng(layout.card))
  console.log(name, layout.card.sizeMm, layout.card.code.payload)
}
