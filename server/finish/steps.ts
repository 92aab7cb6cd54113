import type { StepsReply } from '../api/finish.js'
import { CAUTIONS, cautionsOf, type StepName } from './cautions.js'
import { sheetLines, sheetMinutes, type ResinSheet } from './sheet-lines.js'
import type { FinishWords } from './words/english.js'

/** A step of the route of a part: what to do, why, how long, what can hurt. */
export type FinishStep = StepsReply['steps'][number]

export const STEP_NAMES = Object.keys(CAUTIONS) as StepName[]

/** Usual waits, min; common practice, no source. */
const USUAL_MIN = {
  prepare: { stand: 30 },
  print: {},
  drain: { drain: 15 },
  wash: { first: 3, second: 2 },
  dry: { dry: 30 },
  'post-cure': {},
  smooth: {},
  coat: { level: 60 },
  age: {},
} as const satisfies { readonly [Name in StepName]: Record<keyof FinishWords['steps'][Name]['waits'], number> }

/**
 * From bottle to shelf, in order.
 *
 * @param sheet what the data sheet of the resin says: takes the place of what is usual
 */
export function finishSteps(words: FinishWords, sheet: ResinSheet = {}): FinishStep[] {
  const lines = sheetLines(words, sheet)
  return STEP_NAMES.map((name) => {
    const { title, why, checks, waits, measure } = words.steps[name]
    const fromSheet = lines[name] ?? {}
    const usual = Object.entries(checks).map(([id, text]) => ({ id, text, fromSheet: false }))
    const added = Object.entries(fromSheet).filter(([id]) => !(id in checks))
    const given = sheetMinutes(name, USUAL_MIN.wash, sheet)
    const names: Readonly<Record<string, string>> = { ...waits, light: words.sheet.light }
    return {
      name,
      title,
      why,
      checks: [
        ...usual.map((line) => (line.id in fromSheet ? { ...line, text: fromSheet[line.id]!, fromSheet: true } : line)),
        ...added.map(([id, text]) => ({ id, text, fromSheet: true })),
      ],
      waits: Object.entries({ ...USUAL_MIN[name], ...given }).map(([id, minutes]) => ({
        id,
        what: names[id]!,
        minutes,
        fromSheet: id in given,
      })),
      measure: [...measure],
      cautions: cautionsOf(name, words),
    }
  })
}
