import type { helpCodes } from '../help/help-codes.js'

type ReasonCode = (typeof helpCodes)[keyof typeof helpCodes][number]
/** Headline and advice for each reason of a measurement. English is what the service says itself. */
export type ReasonWords = Readonly<Record<ReasonCode, readonly [title: string, advice: string]>>
