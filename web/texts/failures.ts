import type { ErrorReply } from '../../server/api/common.js'
import { language } from '../language.js'

/** What went wrong and what to do, by the service's own name for it. */
type FailureWords = Readonly<Record<string, readonly [message: string, advice: string]>>

const words: FailureWords = language === 'de' ? await german() : {}

async function german(): Promise<FailureWords> {
  const [{ reasons }, { failures }] = await Promise.all([import('./de/reasons.js'), import('./de/failures.js')])
  const asSentences = Object.entries(reasons).map(([code, [title, advice]]) => [code, [`${title}.`, advice]] as const)
  return { ...Object.fromEntries(asSentences), ...failures }
}

/** A failure of the service in the language of the page; in the service's own words where there are none. */
export function inLanguage({ code, message, advice }: ErrorReply): Pick<ErrorReply, 'message' | 'advice'> {
  const [ownMessage = message, ownAdvice = advice] = words[code] ?? []
  return { message: ownMessage, advice: ownAdvice }
}
