/** Die Wörter der ersten Ansicht, zusammen geholt. */
export { life } from './life.js'
export { page } from './page.js'
export { process } from './process.js'
