import { language, type Words } from '../language.js'
import type { life } from './en/life.js'

const words = language === 'de' ? await import('./de/start.js') : await import('./en/start.js')
export const lifeTexts: Words<typeof life> = words.life
