import type { Rung, WindowDefect } from '../../analysis/index.js'
import { withUncertainty } from './numbers.js'
import { tableLines } from './table.js'

const HEAD = ['slot', 'surface index', 'yellowness', 'delta b*', 'clarity score', 'in the window']
const PLURAL: Record<WindowDefect['kind'], readonly [string, string]> = {
  bubble: ['bubble', 'bubbles'],
  dust: ['speck of dust', 'specks of dust'],
  'layer-band': ['layer band', 'layer bands'],
  scratch: ['scratch', 'scratches'],
}

function defectsOf(defects: readonly WindowDefect[]): string {
  const counts = (Object.keys(PLURAL) as WindowDefect['kind'][]).flatMap((kind) => {
    const count = defects.filter((defect) => defect.kind === kind).length
    return count === 0 ? [] : [`${count} ${PLURAL[kind][count === 1 ? 0 : 1]}`]
  })
  return counts.length === 0 ? 'nothing found' : counts.join(', ')
}

/** What the windows show beside haze, with what the numbers mean; no lines if no window was read. */
export function clarityLines(rungs: readonly Rung[]): string[] {
  const read = rungs.flatMap((rung) => ('growthUm' in rung && rung.window ? [{ ...rung, window: rung.window }] : []))
  const [first] = read
  if (!first) return []
  const { thicknessMm } = first.window.yellowness
  const units = ['', '', 'log ratio per mm', `of ${thicknessMm} mm`]
  const rows = read.map(({ slot, yellownessPerMm, window: { surface, yellowness, score, defects } }) => [
    String(slot),
    withUncertainty(surface),
    yellownessPerMm ? withUncertainty(yellownessPerMm) : '-',
    withUncertainty(yellowness.deltaB),
    withUncertainty(score),
    defectsOf(defects),
  ])
  return [
    ...tableLines([HEAD, units, ...rows]),
    '',
    `Clarity score = ${first.window.score.formula}.`,
    'Surface index: contrast across the layers that smoothing or a coat could win back. Yellowness: log10 of red over blue.',
    'Haze, surface and score are our own indices, not ASTM or ISO values.',
  ]
}
