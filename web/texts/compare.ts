import { language, type Words } from '../language.js'
import { compare } from './en/compare.js'

export const compareTexts: Words<typeof compare> =
  language === 'de' ? (await import('./de/compare.js')).compare : compare
