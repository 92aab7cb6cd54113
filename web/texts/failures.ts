import type { ErrorReply } from '../../server/api/common.js'
import { language } from '../language.js'

/** What went wrong and what to do, by the service's own name for it. */
type FailureWords = Readonly<Record<string, readonly [message: string, advice: string]>>

interface Words {
  readonly failures: FailureWords
  /** Which of what was sent is wrong. Default: the message says it. */
  readonly fields?: (paths: readonly string[]) => string
}
const words: Words = language === 'de' ? await german() : { failures: {} }

async function german(): Promise<Words> {
  const [{ reasons }, { failures, fields }] = await Promise.all([import('./de/reasons.js'), import('./de/failures.js')])
  const asSentences = Object.entries(reasons).map(([code, [title, advice]]) => [code, [`${title}.`, advice]] as const)
  return { failures: { ...Object.fromEntries(asSentences), ...failures }, fields }
}

/** A failure of the service in the language of the page; in the service's own words where there are none. */
export function inLanguage({ code, message, advice, fields }: ErrorReply): Pick<ErrorReply, 'message' | 'advice'> {
  const [ownMessage = message, ownAdvice = advice] = words.failures[code] ?? []
  const which = fields && words.fields?.(fields)
  return { message: which ? `${ownMessage} ${which}` : ownMessage, advice: ownAdvice }
}
