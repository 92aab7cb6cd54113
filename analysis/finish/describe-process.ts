import { stated, type Estimate } from '../statistics/estimate.js'
import { spanOf, type ProcessFitted, type ProcessReading, type StepFit } from './process-ladder.js'
import type { ProcessFit } from './process-schema.js'

const CURVE_POINTS = 40
const pair = ([a, b]: readonly [number, number]): [number, number] => [a, b]

/** What the result says of one response of a process ladder. */
export function describeProcess(fitted: ProcessFitted, readings: readonly ProcessReading[]): ProcessFit {
  switch (fitted.model) {
    case 'saturating': {
      const { start, change, scale, enough, reached, scatter, at } = fitted.fit
      const spread = ({ value, interval }: typeof scale) => ({ value, interval: pair(interval) })
      return {
        verdict: verdictOf(change.value, spanOf(change).told),
        saturating: {
          start: stated(start),
          change: stated(change),
          scale: spread(scale),
          enough: spread(enough),
          reached,
          scatter,
        },
        curve: curveOf(readings, at),
      }
    }
    case 'steps':
      return describeSteps(fitted)
    case 'line': {
      const { trend, interval, told, noPlateau } = fitted
      return {
        verdict: verdictOf(trend.slope.value, told),
        line: { slope: stated(trend.slope), interval: pair(interval), told },
        ...(noPlateau && { noPlateau }),
        curve: curveOf(readings, trend.at),
      }
    }
  }
}

const verdictOf = (change: number, told: boolean) => (!told ? 'no-change' : change < 0 ? 'falls' : 'rises')

function describeSteps({ means, differences, between }: StepFit): ProcessFit {
  const best = lastGain(
    means.map(({ level }) => level),
    between,
  )
  const told = means.flatMap(({ level: from }, i) => means.slice(i + 1).map(({ level: to }) => between(from, to)))
  const shown = (sign: 1 | -1) => told.some((one) => one.told && sign * one.difference.value > 0)
  return {
    verdict: shown(-1) ? (shown(1) ? 'falls-and-rises' : 'falls') : shown(1) ? 'rises' : 'no-change',
    steps: {
      means: means.map(({ level, coupons, mean }) => ({ level, coupons, mean: stated(mean) })),
      differences: differences.map(({ difference, interval, ...rest }) => ({
        ...rest,
        difference: stated(difference),
        interval: pair(interval),
      })),
      ...(best !== undefined && { best }),
    },
  }
}

/** Last level that is shown to be lower than the best one before it. */
function lastGain(levels: readonly string[], between: StepFit['between']): string | undefined {
  let best = levels[0]!
  for (const level of levels.slice(1)) {
    const { difference, told } = between(best, level)
    if (told && difference.value < 0) best = level
  }
  return best === levels[0] ? undefined : best
}

function curveOf(
  readings: readonly ProcessReading[],
  at: (amount: number) => Estimate,
): NonNullable<ProcessFit['curve']> {
  const amounts = readings.map(({ level }) => Number(level))
  const [low, high] = [Math.min(...amounts), Math.max(...amounts)]
  return Array.from({ length: CURVE_POINTS }, (_, i) => {
    const amount = low + ((high - low) * i) / (CURVE_POINTS - 1)
    const expected = at(amount)
    const [least, most] = spanOf(expected).interval
    return { amount, value: expected.value, low: least, high: most }
  })
}
