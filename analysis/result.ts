/** What a reading says, as one schema: type, validation and documentation of its fields. */
export * from './result/caliper.js'
export * from './result/conclusion.js'
export * from './result/options.js'
export * from './result/parts.js'
export * from './result/reading.js'
export * from './result/rung.js'
