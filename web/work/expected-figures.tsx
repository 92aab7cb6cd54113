import { useCallback } from 'preact/hooks'
import type { ReadLadder } from '../../server/api/readings.js'
import { Chart } from '../charts/chart.js'
import { formatNumber, formatShort } from '../format.js'
import { workTexts } from '../texts/work.js'
import type { Expected } from './use-expected.js'

const words = workTexts.whatIf

/** The asked exposure on the growth curve, and the dose it leaves by depth. */
export function ExpectedFigures({ expected, ladder }: { expected: Expected; ladder: ReadLadder }) {
  const { accumulatedDose, equivalentS, growthUm } = expected.reply
  const loadDose = useCallback(async () => {
    const { doseChart } = await import('../charts/expected-charts.js')
    return (widthPx: number) => doseChart(accumulatedDose, widthPx)
  }, [accumulatedDose])
  const loadGrowth = useCallback(async () => {
    const { expectedGrowthChart } = await import('../charts/expected-charts.js')
    return (widthPx: number) => expectedGrowthChart(ladder, equivalentS, growthUm, widthPx)
  }, [ladder, equivalentS, growthUm])
  const [face, deep] = [accumulatedDose[0], accumulatedDose.at(-1)].map((dose) => formatShort(dose?.value ?? 0))
  const growth = growthUm
    ? `${formatNumber(growthUm.value, 1)} µm, ${words.band(formatNumber(growthUm.low, 1), formatNumber(growthUm.high, 1))}`
    : words.outsideTitle
  return (
    <div class="beside">
      <figure>
        <figcaption>{words.chartTitle}</figcaption>
        <Chart load={loadGrowth} label={words.chartLabel(formatShort(equivalentS.value), growth)} />
      </figure>
      <figure>
        <figcaption>
          {words.doseTitle}. {words.doseLead}
        </figcaption>
        <Chart load={loadDose} label={words.doseLabel(face ?? '', deep ?? '')} />
      </figure>
    </div>
  )
}
