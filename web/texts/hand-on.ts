import { language, type Words } from '../language.js'
import { handOn } from './en/hand-on.js'

export const handOnTexts: Words<typeof handOn> = language === 'de' ? (await import('./de/hand-on.js')).handOn : handOn
