import { language, type Words } from '../language.js'
import { finish } from './en/finish.js'

export const finishTexts: Words<typeof finish> = language === 'de' ? (await import('./de/finish.js')).finish : finish
