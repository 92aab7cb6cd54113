/** The words of the first view, fetched together. */
export { life } from './life.js'
export { page } from './page.js'
export { process } from './process.js'
