import { english, type FinishWords } from './english.js'
import { german } from './german.js'

export type { FinishWords } from './english.js'

export const LANGUAGES = ['en', 'de'] as const
export type FinishLanguage = (typeof LANGUAGES)[number]

/** What is said of the steps around printing, in each language of the page. */
export const finishWords: Readonly<Record<FinishLanguage, FinishWords>> = { en: english, de: german }
