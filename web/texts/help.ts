import { language, type Words } from '../language.js'
import { help } from './en/help.js'

export const helpTexts: Words<typeof help> = language === 'de' ? (await import('./de/help.js')).help : help
