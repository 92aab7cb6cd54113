import { language, type Words } from '../language.js'
import { page } from './en/page.js'

export const texts: Words<typeof page> = language === 'de' ? (await import('./de/start.js')).page : page
