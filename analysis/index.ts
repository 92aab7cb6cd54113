// The one door to the analysis: all that server/ may import.
export { refuse, type Outcome, type Refusal } from './outcome.js'
