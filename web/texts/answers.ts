import type { Comparison } from '../../server/api/compare.js'
import type {
  FirstLadderReply,
  FirstLadderRequest,
  LampReply,
  LampRequest,
  LayerHeightReply,
} from '../../server/api/planning.js'
import type { Adapted, SideBySide } from '../../server/api/sheets.js'
import { sentence } from '../format.js'
import { language } from '../language.js'
import type { AnswerWords, Difference, PointAdvice, RuleAnswer, Series, Verification } from './answer-words.js'

type FirstLadder = Pick<FirstLadderRequest, 'known' | 'layerHeightUm'> & Pick<FirstLadderReply, 'why'>
type LampChange = Pick<LampRequest, 'reason'> & Pick<LampReply, 'caution'>

const words: AnswerWords | undefined = language === 'de' ? (await import('./de/answers.js')).answers : undefined

/** Why the first ladder is as it is. */
export const whyFirst = ({ known, layerHeightUm, why }: FirstLadder): string =>
  words?.firstLadder(known, layerHeightUm) ?? sentence(why)

/** What to expect at another layer height. */
export const layerHeightOf = (reply: LayerHeightReply): string => words?.layerHeight(reply) ?? sentence(reply.inWords)

/** What the exposure of one rule risks. */
export const riskOf = (answer: RuleAnswer, { fromUm, toUm }: LayerHeightReply): string =>
  words?.risk(answer, toUm < fromUm) ?? sentence(answer.risk)

/** What could not be told. */
export const noteOf = ({ note }: LayerHeightReply): string | undefined => note && (words?.noOvercure ?? sentence(note))

/** Why a point of a working curve is better dropped. */
export const adviceOn = ({ why, inWords }: Pick<PointAdvice, 'why' | 'inWords'>): string =>
  words?.advice[why] ?? inWords

/** How far an exposure carried to another lamp can be trusted. */
export const cautionOf = ({ reason, caution }: LampChange): string => words?.lamp[reason] ?? caution

/** What a difference says. */
export const differenceOf = (difference: Difference, comparison: Comparison): string =>
  words?.difference(difference, comparison) ?? difference.inWords

/** What a group says over time. */
export const overTimeOf = (series: Series, of: Comparison['of']): string =>
  words?.overTime(series, of) ?? series.inWords

/** How the groups were compared. */
export const methodOf = ({ method, methodInWords }: Comparison): string => words?.methods[method] ?? methodInWords

/** What a setting comes to on another printer. */
export const adaptedOf = (adapted: Adapted): string => words?.adapted(adapted) ?? adapted.inWords

/** What the difference of two sheets means. */
export const besideOf = (beside: SideBySide): string => words?.beside(beside) ?? beside.inWords

/** What a fact of a setting sheet is called. */
export const sheetNameOf = (name: string): string => words?.sheetName(name) ?? name

/** A fact of a setting sheet. */
export const sheetValueOf = (name: string, value: string): string => words?.sheetValue(name, value) ?? value

/** Whether a sheet is as its signer left it. */
export const verifiedOf = (verification: Verification): string => words?.verified(verification) ?? verification.inWords
