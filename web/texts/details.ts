import { inMarks, withSigns } from '../format.js'
import { language } from '../language.js'

const inGerman = language === 'de' ? await import('./de/details.js') : undefined

/** What was found, in the language of the page; in the service's own words where it has none. */
export function detailOf(detail: string | undefined): string | undefined {
  if (detail === undefined) return undefined
  const german = inGerman?.details(detail)
  return german === undefined ? withSigns(detail) : inMarks(german)
}

/** Where an uncertainty comes from. */
export const sourceOf = (source: string): string => inGerman?.sources[source] ?? source
