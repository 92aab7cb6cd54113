import { useCallback } from 'preact/hooks'
import type { ReadLadder } from '../../server/api/readings.js'
import { Chart } from '../charts/chart.js'
import { formatExpanded, formatNumber, formatShort } from '../format.js'
import { FactList, type Fact } from '../views/fact-list.js'
import { workTexts } from '../texts/work.js'
import { inMil } from '../units.js'
import { magnificationOf, offUm } from './residual-scale.js'

const words = workTexts.pose

/** How the discs of the card fit the camera that was found. */
export function Pose({ ladder: { card } }: { ladder: ReadLadder }) {
  const { residuals, residualUm, radialDistortion, radialDistortion4, printScaleRatio, bowMm } = card
  const load = useCallback(async () => {
    const { residualMap } = await import('../charts/residual-map.js')
    return (widthPx: number) => residualMap(residuals, widthPx)
  }, [residuals])
  const times = String(magnificationOf(residuals))
  const [rms, largest] = [residualUm, Math.max(0, ...residuals.map(offUm))].map((um) => formatShort(um, 2)) as [
    string,
    string,
  ]
  const facts: Fact[] = [
    [words.rms, `${words.um(rms)}${inMil(residualUm)}`],
    [words.largest, words.um(largest)],
    [words.distortion, `${formatNumber(radialDistortion, 4)}; ${formatNumber(radialDistortion4, 4)}`],
    [words.printScale, formatExpanded(printScaleRatio)],
    [words.bow, bowMm === undefined ? words.flat : words.bowValue(formatShort(bowMm, 2))],
  ]
  return (
    <>
      <p class="hint">{words.lead}</p>
      {residuals.length > 0 && (
        <>
          <Chart load={load} label={words.label(rms, largest, times)} low />
          <p class="hint">{words.times(times)}</p>
        </>
      )}
      <FactList facts={facts} compact />
      <p class="hint">{words.noScale}</p>
    </>
  )
}
