import type { FinishWords } from './words/english.js'

type CautionId = keyof FinishWords['cautions']

/** The cautions where each step is; the first sentences anyone reads there. */
export const CAUTIONS = {
  prepare: ['skin', 'heat'],
  print: ['skin', 'air'],
  drain: ['skin', 'waste'],
  wash: ['skin', 'solvent', 'mist', 'air', 'waste'],
  dry: ['solvent', 'air'],
  'post-cure': ['light', 'skin', 'bath', 'bulk'],
  smooth: ['dust', 'skin', 'waste'],
  coat: ['varnish', 'skin', 'light'],
  age: ['sun', 'use'],
} as const satisfies Readonly<Record<keyof FinishWords['steps'], readonly CautionId[]>>
export type StepName = keyof typeof CAUTIONS

/** A usual caution with where it comes from; what the data sheet and local rules say comes first. */
export interface Caution {
  id: CautionId
  title: string
  text: string
  source: string
}

/** Those of a step, in words. */
export const cautionsOf = (step: StepName, words: FinishWords): Caution[] =>
  CAUTIONS[step].map((id) => ({ id, ...words.cautions[id] }))
