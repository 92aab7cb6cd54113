import { language, type Words } from '../language.js'
import { process } from './en/process.js'

export const processTexts: Words<typeof process> = language === 'de' ? (await import('./de/start.js')).process : process
