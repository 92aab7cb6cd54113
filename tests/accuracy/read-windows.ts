import { readFileSync } from 'node:fs'
import type { LadderReading } from '../../analysis/index.js'
import type { Estimate } from '../../analysis/statistics/estimate.js'
import { SHARE_BEYOND } from '../support/haze-truth.js'
import { trueDeltaB } from '../support/true-delta-b.js'
import { alikeNames, frameNames, readScene, sceneNames } from '../support/window-crops.js'
import { rounded, type WindowRecord } from './records.js'

const LOW_PANEL = 'low-panel-windows'

/** Reads the single windows of `samples/windows` against the share of light that a second rendering sends astray. */
export async function readWindowCrops(): Promise<WindowRecord[]> {
  const groups = [
    ['single', sceneNames],
    ['alike', alikeNames],
    ['low panel', frameNames.filter((name) => name === LOW_PANEL)],
    ['other frames', frameNames.filter((name) => name !== LOW_PANEL)],
  ] as const
  const records: WindowRecord[] = []
  for (const [group, scenes] of groups)
    for (const scene of scenes)
      for (const { truth, reading } of await readScene(scene)) {
        const layered = group === 'single' && truth.reliefUm >= 1
        const of = { group: layered ? ('layer lines' as const) : group, scene, slot: truth.slot }
        if (!reading.ok) records.push({ ...of, refused: reading.refusal.code })
        else {
          const { haze } = reading.value.fitted
          const { deltaB } = reading.value.yellowness
          records.push({
            ...of,
            haze: judgedHaze(haze, truth.sharePastDeg['2.5']),
            deltaB: {
              error: rounded(deltaB.value - trueDeltaB(truth)),
              uncertainty: rounded(deltaB.standardUncertainty),
            },
          })
        }
      }
  return records
}

/** In ten thousandths: bottles are told apart by less than a hundredth. */
function judgedHaze({ value, standardUncertainty }: Estimate, truth: number): NonNullable<WindowRecord['haze']> {
  const exact = (number: number) => Number(number.toFixed(4))
  return { truth: exact(truth), error: exact(value - truth), uncertainty: exact(standardUncertainty) }
}

interface SampleTruth {
  readonly treatment: string
  readonly rungs: readonly {
    readonly slot: number
    readonly haze: number
    readonly absorptionPerMm: [number, number, number]
  }[]
}

/** The same of a whole photograph's coupons. */
export function windowsOf(scene: string, reading: LadderReading, file: URL): WindowRecord[] {
  const { treatment, rungs } = JSON.parse(readFileSync(file, 'utf8')) as SampleTruth
  const group = treatment === 'honest' ? 'whole, honest' : 'whole, finished'
  if ('refusal' in reading) return []
  return reading.rungs.flatMap((rung): WindowRecord[] => {
    const truth = rungs.find(({ slot }) => slot === rung.slot)
    if (!truth || !('growthUm' in rung)) return []
    const { slot, haze, window } = rung
    if (!haze || !window) return [{ group, scene, slot, refused: rung.notes[0]?.code ?? 'not read' }]
    const { deltaB } = window.yellowness
    return [
      {
        ...{ group, scene, slot },
        haze: judgedHaze(haze, SHARE_BEYOND * truth.haze),
        deltaB: {
          error: rounded(deltaB.value - trueDeltaB(truth)),
          uncertainty: rounded(deltaB.standardUncertainty),
        },
      },
    ]
  })
}
