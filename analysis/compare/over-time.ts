import { stated } from '../statistics/estimate.js'
import { findChange } from './change-point.js'
import { controlChart } from './control-chart.js'
import { shown } from './in-words.js'
import type { Response } from './responses.js'
import type { CompareOf, ComparisonChart } from './schema.js'

/** A change is told when so clear a one would come of noise in less than one series of twenty. */
const CLEAR = 0.05

/** Charts of each group whose dated photographs are enough for limits; a point is the mean of one photograph's coupons. */
export function chartsOverTime(responses: readonly Response[], of: CompareOf): ComparisonChart[] {
  const groups = [...new Set(responses.map(({ group }) => group))]
  return groups.flatMap((group) => {
    const dated = responses.filter((one) => one.group === group && one.date !== undefined)
    const points = [...new Set(dated.map(({ photo }) => photo))]
      .map((photo) => {
        const here = dated.filter((one) => one.photo === photo)
        return { photo, date: here[0]!.date!, value: here.reduce((sum, { value }) => sum + value, 0) / here.length }
      })
      .sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0))
    const values = points.map(({ value }) => value)
    const chart = controlChart(values)
    if (!chart.ok) return []
    const { centre, sigma, baseline, individual, ewma } = chart.value
    const found = findChange(values)
    const change = found.ok && found.value.pAtMost < CLEAR ? found.value : undefined
    const dateAt = (i: number) => points[i]!.date
    const dayAt = (i: number) => dateAt(i).slice(0, 10)
    const after = [...individual.out, ...ewma.out].filter((i) => i >= baseline)
    return [
      {
        group,
        points,
        centre,
        sigma,
        baseline,
        limits: [...individual.limits],
        out: [...individual.out],
        ewma: {
          lambda: ewma.lambda,
          values: [...ewma.values],
          limits: ewma.limits.map(([low, high]): [number, number] => [low, high]),
          out: [...ewma.out],
        },
        ...(change && {
          change: {
            after: dateAt(change.lastBefore),
            between: [dateAt(change.interval[0]), dateAt(change.interval[1])] as [string, string],
            change: stated(change.change),
            pAtMost: change.pAtMost,
          },
        }),
        inWords: change
          ? `${group} changed by ${shown(change.change.value, of)} after ${dayAt(change.lastBefore)}.`
          : after.length > 0
            ? `${group} left its limits on ${dayAt(Math.min(...after))}; when it changed the readings do not yet show.`
            : `${group}: no change that ${points.length} photographs could show.`,
      },
    ]
  })
}
