import { language, type Words } from '../language.js'
import type { page } from './en/page.js'

const words = language === 'de' ? await import('./de/start.js') : await import('./en/start.js')
export const texts: Words<typeof page> = words.page
