import {
  readProcessLadder,
  stated,
  type Outcome,
  type ProcessAnswer,
  type ProcessFactor,
} from '../../analysis/index.js'
import type { ProcessLadderReply } from '../api/finish.js'
import { short } from '../report/numbers.js'

type Readings = Parameters<typeof readProcessLadder>[1]
const pair = ([a, b]: readonly [number, number]): [number, number] => [a, b]

/** What a process ladder says, as numbers and in a sentence. */
export function answerProcessLadder(factor: ProcessFactor, readings: Readings): Outcome<ProcessLadderReply> {
  const found = readProcessLadder(factor, readings)
  if (!found.ok) return found
  const { unit, model } = found.value
  return { ok: true, value: { factor, unit, model, ...numbers(found.value), inWords: inWords(found.value) } }
}

function numbers(answer: ProcessAnswer): Pick<ProcessLadderReply, 'saturating' | 'steps' | 'line'> {
  switch (answer.model) {
    case 'saturating': {
      const { start, change, scale, enough, reached, scatter } = answer.fit
      const spread = ({ value, interval }: typeof scale) => ({ value, interval: pair(interval) })
      return {
        saturating: {
          start: stated(start),
          change: stated(change),
          scale: spread(scale),
          enough: spread(enough),
          reached,
          scatter,
        },
      }
    }
    case 'steps':
      return {
        steps: {
          means: answer.means.map(({ level, coupons, mean }) => ({ level, coupons, mean: stated(mean) })),
          differences: answer.differences.map(({ from, to, difference, interval, told }) => ({
            ...{ from, to, told },
            difference: stated(difference),
            interval: pair(interval),
          })),
        },
      }
    case 'line':
      return { line: { slope: stated(answer.slope), interval: pair(answer.interval), told: answer.told } }
  }
}

function inWords(answer: ProcessAnswer): string {
  switch (answer.model) {
    case 'saturating': {
      const { enough, reached } = answer.fit
      const [low, high] = enough.interval.map(short)
      return (
        `${short(enough.value)} ${answer.unit} give 95 % of all there is to win (95 % interval ${low} to ${high} ${answer.unit}).` +
        (reached ? '' : ' The coupons do not reach the end of that interval: add some with more.')
      )
    }
    case 'steps': {
      const told = answer.differences.filter((one) => one.told)
      return told.length === 0
        ? 'No step makes a difference that this many coupons could show.'
        : told.map(({ from, to, difference }) => `${to} differs from ${from} by ${short(difference.value)}.`).join(' ')
    }
    case 'line': {
      const [low, high] = answer.interval.map(short)
      return answer.told
        ? `Changes by ${short(answer.slope.value)} per ${answer.unit} (95 % interval ${low} to ${high}).`
        : `No trend shows: between ${low} and ${high} per ${answer.unit}.`
    }
  }
}
