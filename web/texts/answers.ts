import type { Comparison } from '../../server/api/compare.js'
import type {
  FirstLadderReply,
  FirstLadderRequest,
  LampReply,
  LampRequest,
  LayerHeightReply,
} from '../../server/api/planning.js'
import { sentence } from '../format.js'
import { language } from '../language.js'
import type { AnswerWords, Difference, PointAdvice, RuleAnswer, Series } from './answer-words.js'

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
