import { language, type Words } from '../language.js'
import type { process } from './en/process.js'

const words = language === 'de' ? await import('./de/start.js') : await import('./en/start.js')
export const processTexts: Words<typeof process> = words.process
