// The one door to the analysis: all that server/ may import.
export { refuse, type Outcome, type Refusal } from './outcome.js'
export { ladderLayout } from './layout/ladder-layout.js'
export { decodeCardCode, encodeCardCode, type CardCode } from './layout/card-code.js'
export { LadderDesign, LadderLayout } from './layout/schema.js'
export * from './result.js'
export { measureLadder, type Stage } from './measure-ladder.js'
export { combineReadings } from './combine/combine-readings.js'
