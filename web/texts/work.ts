import { language, type Words } from '../language.js'
import { work } from './en/work.js'

export const workTexts: Words<typeof work> = language === 'de' ? (await import('./de/work.js')).work : work
