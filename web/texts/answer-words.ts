import type { Comparison } from '../../server/api/compare.js'
import type { FirstLadderRequest, LampRequest, LayerHeightReply, WorkingCurveReply } from '../../server/api/planning.js'
import type { Adapted, SideBySide, TakenIn } from '../../server/api/sheets.js'

export type Verification = TakenIn['verification']
export type Difference = Comparison['differences'][number]
export type Series = Comparison['overTime'][number]
export type RuleAnswer = LayerHeightReply['bond']
export type PointAdvice = WorkingCurveReply['advice'][number]

/** What planning and comparing answer in sentences, from the values. English is what the service says itself. */
export interface AnswerWords {
  readonly firstLadder: (known: FirstLadderRequest['known'], layerUm: number) => string
  readonly layerHeight: (reply: LayerHeightReply) => string
  readonly risk: (answer: RuleAnswer, thinner: boolean) => string
  readonly noOvercure: string
  readonly advice: Readonly<Record<PointAdvice['why'], string>>
  readonly lamp: Readonly<Record<LampRequest['reason'], string>>
  readonly difference: (difference: Difference, comparison: Comparison) => string
  readonly overTime: (series: Series, of: Comparison['of']) => string
  readonly adapted: (adapted: Adapted) => string
  readonly beside: (beside: SideBySide) => string
  readonly sheetName: (name: string) => string
  readonly sheetValue: (name: string, value: string) => string
  readonly verified: (verification: Verification) => string
  readonly methods: Readonly<Record<Comparison['method'], string>>
}
