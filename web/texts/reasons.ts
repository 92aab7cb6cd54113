import type { RefusalReply } from '../../server/api/readings.js'
import { codeTitle } from '../format.js'
import { language } from '../language.js'

const words: Readonly<Record<string, readonly [string, string]>> =
  language === 'de' ? (await import('./de/reasons.js')).reasons : {}

/** Headline of a reason, of its name where there is none in this language. */
export const titleOf = (code: string): string => words[code]?.[0] ?? codeTitle(code)

/** What to do, in the service's own words where there are none in this language. */
export const adviceOf = ({ code, advice }: Pick<RefusalReply, 'code' | 'advice'>): string => words[code]?.[1] ?? advice
