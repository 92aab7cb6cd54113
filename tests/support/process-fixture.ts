import { concludeProcess } from '../../analysis/finish/conclude-process.js'
import type { LadderDesign } from '../../analysis/layout/schema.js'
import type { ReadLadder, ReadRung, Rung } from '../../analysis/result.js'
import { answered } from './reading-fixture.js'

// Invented numbers, as in reading-fixture.ts. What the ladder says of them is worked out.

/** What the rungs below the fixture's coupons show otherwise. */
const withValues = (rungs: readonly Rung[], values: (read: ReadRung, i: number) => Partial<ReadRung>): Rung[] =>
  rungs.map((rung, i) => ('growthUm' in rung ? { ...rung, ...values(rung, i) } : rung))

const { suggestion: _s, usableRange: _u, doseToSize: _d, growthFit: _g, ...photographed } = answered
const grits = ['NONE', 'P400', 'P800', 'P1500', 'J2000', 'J3000']
const design = {
  ...answered.design,
  ladderId: 'SANDED',
  exposuresS: grits.map(() => 2.3),
  factor: 'grit' as const,
  levels: grits,
} satisfies LadderDesign

/** Coupons sanded finer and finer: haze falls at each step. */
export const sanded: ReadLadder = (() => {
  const rungs = withValues(photographed.rungs, ({ growthUm }, i) => ({
    exposureS: 2.3,
    growthUm: { ...growthUm, value: -3 - 0.4 * i },
    haze: { value: 0.42 * 0.62 ** i + 0.05, standardUncertainty: 0.008 },
  }))
  return { ...photographed, design, rungs, process: concludeProcess(design, rungs) }
})()

/** The fixture's coupons as they are after some days: they turn yellow. */
export const aged = (days: number): ReadLadder => ({
  ...answered,
  design: { ...answered.design, ladderId: 'AGEING' },
  rungs: withValues(answered.rungs, ({ yellownessPerMm }, i) => ({
    yellownessPerMm: {
      value: 0.011 + 0.0003 * days ** 0.5 + 0.0001 * ((i * 7) % 3),
      standardUncertainty: yellownessPerMm?.standardUncertainty ?? 0.001,
    },
  })),
})
