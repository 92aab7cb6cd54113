import { language, type Words } from '../language.js'
import { life } from './en/life.js'

export const lifeTexts: Words<typeof life> = language === 'de' ? (await import('./de/start.js')).life : life
