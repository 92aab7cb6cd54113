import { readdirSync, readFileSync } from 'node:fs'
import { Matrix, solve } from 'ml-matrix'
import { mean } from 'simple-statistics'
import { measureLadder, type LadderReading, type ReadRung } from '../../analysis/index.js'
import { ladderLayout } from '../../analysis/layout/ladder-layout.js'
import { doseRecord } from './read-drawn.js'
import { windowsOf } from './read-windows.js'
import { rounded, type CouponRecord, type PhotoRecord, type WindowRecord } from './records.js'

/** The part of a sample's truth that is compared; `samples/README.md` says what is in it. */
interface Truth {
  readonly ladder: { readonly doseToSizeS: number }
  readonly rungs: readonly { readonly slot: number; readonly growthUm: number; readonly printThroughUm: number }[]
  readonly ink: { readonly method: string; readonly rimUm: number }
  readonly resin: { readonly ior: number }
  readonly camera: { readonly P: number[][] }
}

const folder = new URL('../../samples/', import.meta.url)

/** Reads every path-traced photograph and compares what it says, allowance and all, with the truth beside it. */
export async function readSamples(): Promise<{ photos: PhotoRecord[]; windows: WindowRecord[] }> {
  const photos: PhotoRecord[] = []
  const windows: WindowRecord[] = []
  for (const file of readdirSync(folder).filter((name) => name.endsWith('.jpg'))) {
    const name = file.replace('.jpg', '')
    const beside = new URL(`${name}.truth.json`, folder)
    const truth = JSON.parse(readFileSync(beside, 'utf8')) as Truth
    const reading = await measureLadder(readFileSync(new URL(file, folder)))
    photos.push(compare(name, reading, truth))
    windows.push(...windowsOf(name, reading, beside))
  }
  return { photos, windows }
}

function compare(name: string, reading: LadderReading, truth: Truth): PhotoRecord {
  if ('refusal' in reading)
    return { group: 'path-traced', name, warnings: [], refused: [reading.refusal.code], coupons: [] }
  const { card, coupon } = ladderLayout(reading.design)
  const toView = viewOf(truth, coupon.grooveDepthMm)
  return {
    group: 'path-traced',
    name,
    umPerPx: rounded(reading.card.umPerPx),
    warnings: reading.warnings.map(({ code }) => code),
    refused: reading.rungs.flatMap((rung) => ('refusal' in rung ? [rung.refusal.code] : [])),
    coupons: reading.rungs.flatMap((rung) => {
      const expected = truth.rungs.find(({ slot }) => slot === rung.slot)
      const slot = card.slots.find(({ slot }) => slot === rung.slot)
      if (!('growthUm' in rung) || !expected || !slot) return []
      const edges = mean(rung.gratings.map((grating) => grating.growthUm.value))
      // The middle of the gratings, as they lie in the slot.
      const view = toView(slot.originMm[0] + 15)
      return [{ ...against(rung, expected), askew: { ...view, edgeErrorUm: rounded(edges - expected.growthUm) } }]
    }),
    ink: { method: truth.ink.method, rimUm: truth.ink.rimUm },
    ...(reading.doseToSize ? { doseToSize: doseRecord(reading.doseToSize, truth.ladder.doseToSizeS) } : {}),
  }
}

function against(rung: ReadRung, truth: Truth['rungs'][number]): CouponRecord {
  const { growthUm, printThroughUm } = rung
  return {
    slot: rung.slot,
    growthErrorUm: rounded(growthUm.value - truth.growthUm),
    absoluteUm: rounded(growthUm.standardUncertainty),
    withinUm: rounded(growthUm.withinPhotoUncertainty),
    shownUm: rounded(growthUm.standardUncertainty),
    shownWithinUm: rounded(growthUm.withinPhotoUncertainty),
    ...(printThroughUm
      ? {
          printThroughErrorUm: rounded(printThroughUm.value - truth.printThroughUm),
          printThroughUm: rounded(printThroughUm.standardUncertainty),
        }
      : {}),
  }
}

/** From x on the card to the angle across the lines, by the true camera, and d tan(asin(sin t / n)). */
function viewOf({ camera: { P }, resin: { ior } }: Truth, grooveDepthMm: number) {
  const [left, last] = [P.map((row) => row.slice(0, 3)), P.map((row) => -row[3]!)]
  const [cameraX = NaN, , cameraZ = NaN] = solve(new Matrix(left), Matrix.columnVector(last)).to1DArray()
  return (xMm: number) => {
    const angle = Math.atan((cameraX - xMm) / cameraZ)
    return {
      acrossDeg: rounded((angle * 180) / Math.PI),
      besideUm: rounded(1000 * grooveDepthMm * Math.tan(Math.asin(Math.abs(Math.sin(angle)) / ior))),
    }
  }
}
