import { language, type Words } from '../language.js'
import { plan } from './en/plan.js'

export const planTexts: Words<typeof plan> = language === 'de' ? (await import('./de/plan.js')).plan : plan
