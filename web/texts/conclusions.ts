import { withSigns } from '../format.js'
import { language } from '../language.js'
import type { ConclusionWords, Next, Suggestion } from './conclusion-words.js'

const words: ConclusionWords | undefined =
  language === 'de' ? (await import('./de/conclusions.js')).conclusions : undefined

/** How the exposure was chosen. */
export const ruleOf = ({ chosenBy, rule }: Suggestion): string => (words && chosenBy ? words.rules[chosenBy] : rule)

/** What keeps it from being better, if anything does. */
export const limitsOf = ({ limits, limitedBy }: Suggestion): string | undefined =>
  words && limits && limits.length > 0 ? [...new Set(limits.map(({ by }) => words.limits[by]))].join('; ') : limitedBy

/** How sure it is. */
export const confidenceOf = ({ chosenBy, intervalS, confidenceBasis: basis, confidence }: Suggestion): string =>
  words && chosenBy && basis ? words.confidence(chosenBy, intervalS, basis) : withSigns(confidence)

/** Why this ladder is the one to print next. */
export const whyNext = ({ reason, why }: Next): string => (words && reason ? words.next[reason] : why)
