import type { helpCodes, HelpTopic } from '../help/help-codes.js'

type ReasonCode = (typeof helpCodes)[HelpTopic][number]
/** Headline and advice for each reason of a measurement. English is what the service says itself. */
export type ReasonWords = Readonly<Record<ReasonCode, readonly [title: string, advice: string]>>
