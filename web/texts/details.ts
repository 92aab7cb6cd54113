import { inMarks } from '../format.js'
import { language } from '../language.js'

const german = language === 'de' ? await import('./de/details.js') : undefined

/** What was found, in the language of the page; nothing where it has no words for it. English is what the service says itself. */
export function detailOf(detail: string | undefined): string | undefined {
  if (!german || detail === undefined) return detail
  const said = german.details(detail)
  return said && inMarks(said)
}

/** Where an uncertainty comes from. */
export const sourceOf = (source: string): string => german?.sources[source] ?? source
