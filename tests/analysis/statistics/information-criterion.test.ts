import { describe, expect, it } from 'vitest'
import { informationCriterion } from '../../../analysis/statistics/information-criterion.js'
import { fitLinear, polynomialDesign } from '../../../analysis/statistics/linear-least-squares.js'
import { normalDraws } from '../../support/random.js'
import { valueOf } from '../../support/outcomes.js'

it('needs the rss of a third coefficient to be 148 times smaller when 6 points must also tell the noise', () => {
  // AICc by hand: K = 3: 6 + 24/2 = 18; K = 4: 8 + 40/1 = 48; 6 ln(ratio) = 30, ratio = e^5 = 148.4.
  const line = informationCriterion({ rss: 148.4, points: 6, coefficients: 2 }, 'from-scatter')
  const quadratic = informationCriterion({ rss: 1, points: 6, coefficients: 3 }, 'from-scatter')
  expect(line - quadratic).toBeCloseTo(6 * Math.log(148.4) - 30, 12)
  expect(informationCriterion({ rss: 1, points: 5, coefficients: 3 }, 'from-scatter')).toBe(Infinity)
})

describe('with the noise given', () => {
  it('predicts, on average over 4000 seeded ladders of 6 points, the misfit to fresh data', () => {
    // What Akaike's criterion estimates: the expected chi-squared of new observations about the old fit. For k
    // coefficients that is n + k; the criterion less its own expected value n - k + 2k must be zero.
    const draw = normalDraws(20)
    const x = [-2.5, -1.5, -0.5, 0.5, 1.5, 2.5]
    for (const degree of [1, 2]) {
      const design = polynomialDesign(x, degree)
      let excess = 0
      let spread = 0
      const repeats = 4000
      for (let repeat = 0; repeat < repeats; repeat++) {
        const fit = valueOf(
          fitLinear(
            design,
            x.map(() => draw()),
            x.map(() => 1),
            'given',
          ),
        )
        const fresh = x.map(
          (_, i) => (draw() - design[i]!.reduce((sum, c, j) => sum + c * fit.coefficients[j]!, 0)) ** 2,
        )
        const difference =
          informationCriterion({ rss: fit.rss, points: 6, coefficients: degree + 1 }, 'given') -
          fresh.reduce((sum, value) => sum + value, 0)
        excess += difference / repeats
        spread += difference ** 2 / repeats
      }
      // Four standard errors of the mean; the small-sample term of AICc would put it 4 or 12 too high.
      expect(Math.abs(excess)).toBeLessThan(4 * Math.sqrt(spread / repeats))
      expect(4 * Math.sqrt(spread / repeats)).toBeLessThan(0.5)
    }
  })
})
