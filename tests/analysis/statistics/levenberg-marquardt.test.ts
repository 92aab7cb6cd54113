import { describe, expect, it } from 'vitest'
import { minimizeSquares, type EvaluateModel } from '../../../analysis/statistics/levenberg-marquardt.js'
import { readReference } from '../../support/reference.js'
import { relativeError, valueOf } from '../../support/outcomes.js'

interface CertifiedSet {
  x: number[]
  y: number[]
  dof: number
  parameters: { start1: number; start2: number; certified: number; sd: number }[]
  residual_sum_of_squares: number
}
type Model = (x: number, b: ArrayLike<number>) => { value: number; derivatives: number[] }

/** The models of the NIST sets with their derivatives by hand. */
const models: Record<string, Model> = {
  Misra1a: (x, b) => {
    const e = Math.exp(-b[1]! * x)
    return { value: b[0]! * (1 - e), derivatives: [1 - e, b[0]! * x * e] }
  },
  BoxBOD: (x, b) => {
    const e = Math.exp(-b[1]! * x)
    return { value: b[0]! * (1 - e), derivatives: [1 - e, b[0]! * x * e] }
  },
  Chwirut2: (x, b) => {
    const divisor = b[1]! + b[2]! * x
    const value = Math.exp(-b[0]! * x) / divisor
    return { value, derivatives: [-x * value, -value / divisor, (-x * value) / divisor] }
  },
  DanWood: (x, b) => {
    const power = x ** b[1]!
    return { value: b[0]! * power, derivatives: [power, b[0]! * power * Math.log(x)] }
  },
  MGH09: (x, b) => {
    const divisor = x * x + x * b[2]! + b[3]!
    const share = (x * x + x * b[1]!) / divisor
    const value = b[0]! * share
    return { value, derivatives: [share, (b[0]! * x) / divisor, (-value * x) / divisor, -value / divisor] }
  },
  Rat43: (x, b) => {
    const e = Math.exp(b[1]! - b[2]! * x)
    const value = b[0]! * (1 + e) ** (-1 / b[3]!)
    const inner = (value * e) / ((1 + e) * b[3]!)
    return { value, derivatives: [value / b[0]!, -inner, inner * x, (value * Math.log1p(e)) / b[3]! ** 2] }
  },
}

function evaluator({ x, y }: { x: readonly number[]; y: readonly number[] }, model: Model): EvaluateModel {
  return (parameters, residuals, jacobian) => {
    x.forEach((xi, row) => {
      const { value, derivatives } = model(xi, parameters)
      residuals[row] = value - y[row]!
      jacobian.set(derivatives, row * parameters.length)
    })
  }
}

function fitReference(name: string, start: 'start1' | 'start2') {
  const set = readReference<CertifiedSet>(`nist-strd/${name}`)
  const from = set.parameters.map((parameter) => parameter[start])
  return { set, outcome: minimizeSquares(evaluator(set, models[name]!), from, set.x.length) }
}

// NIST Statistical Reference Datasets, nonlinear regression, certified to eleven digits; two starts each.
it.each([
  ['Misra1a', 'start1'],
  ['Misra1a', 'start2'],
  ['Chwirut2', 'start1'],
  ['Chwirut2', 'start2'],
  ['DanWood', 'start1'],
  ['DanWood', 'start2'],
  ['BoxBOD', 'start2'],
  ['Rat43', 'start1'],
  ['Rat43', 'start2'],
  ['MGH09', 'start1'],
  ['MGH09', 'start2'],
] as const)('reaches the certified parameters and standard deviations of %s from %s', (name, start) => {
  const { set, outcome } = fitReference(name, start)
  const fit = valueOf(outcome)
  const n = set.parameters.length
  for (const [j, { certified, sd }] of set.parameters.entries()) {
    // The search ends when a step is 1e-9 of the parameters; along the flat valley of MGH09 that leaves 2e-8.
    expect(relativeError(fit.parameters[j]!, certified)).toBeLessThan(5e-8)
    expect(relativeError(Math.sqrt(fit.scaledCovariance![j * n + j]!), sd)).toBeLessThan(5e-8)
  }
  // Second order in the above, so limited by the eleven digits of the certificate.
  expect(relativeError(fit.rss, set.residual_sum_of_squares)).toBeLessThan(1e-10)
  expect(fit.degreesOfFreedom).toBe(set.dof)
})

it('refuses from the far start of BoxBOD, where the first step lands on a plateau, instead of reporting the plateau', () => {
  const { outcome } = fitReference('BoxBOD', 'start1')
  expect(outcome).toMatchObject({ ok: false, refusal: { code: 'parameters-not-determined' } })
})

/** y = slope x + offset through three points; least squares by hand: slope 2.5, offset -2/3, rss 1/6. */
const lineThroughThree = evaluator({ x: [1, 2, 3], y: [2, 4, 7] }, (x, b) => ({
  value: b[0]! * x + b[1]!,
  derivatives: [x, 1],
}))

it('solves a linear problem as the closed form does', () => {
  const fit = valueOf(minimizeSquares(lineThroughThree, [0, 0], 3))
  expect(fit.parameters[0]).toBeCloseTo(2.5, 8)
  expect(fit.parameters[1]).toBeCloseTo(-2 / 3, 8)
  expect(fit.rss).toBeCloseTo(1 / 6, 12)
  // (X'X)^-1 of x = 1, 2, 3: [[1/2, -1], [-1, 7/3]]; scaled by rss / 1.
  const expected = [1 / 2, -1, -1, 7 / 3]
  expected.forEach((value, at) => {
    expect(fit.unscaledCovariance[at]).toBeCloseTo(value, 10)
    expect(fit.scaledCovariance![at]).toBeCloseTo(value / 6, 10)
  })
})

describe('priors', () => {
  it('count as one more residual each', () => {
    const withPrior = valueOf(
      minimizeSquares(lineThroughThree, [0, 0], 3, { priors: [{ index: 0, mean: 2, standardUncertainty: 0.5 }] }),
    )
    const withRow = valueOf(
      minimizeSquares(
        (b, residuals, jacobian) => {
          lineThroughThree(b, residuals, jacobian)
          residuals[3] = (b[0]! - 2) / 0.5
          jacobian.set([2, 0], 6)
        },
        [0, 0],
        4,
      ),
    )
    expect(withPrior).toEqual({ ...withRow, residuals: withRow.residuals.slice(0, 3) })
    expect(withPrior.degreesOfFreedom).toBe(2)
  })

  it('settle a parameter that the residuals leave open', () => {
    const onlySum: EvaluateModel = (b, residuals, jacobian) => {
      residuals[0] = b[0]! + b[1]! - 5
      jacobian.set([1, 1])
    }
    const fit = valueOf(
      minimizeSquares(onlySum, [0, 0], 1, { priors: [{ index: 1, mean: 2, standardUncertainty: 0.1 }] }),
    )
    expect(fit.parameters[0]).toBeCloseTo(3, 8)
    expect(fit.parameters[1]).toBeCloseTo(2, 8)
    expect(fit.unscaledCovariance[3]).toBeCloseTo(0.01, 12)
    expect(fit.scaledCovariance).toBeNull()
  })
})

it('refuses parameters that change nothing, or only what another changes', () => {
  const sum: EvaluateModel = (b, residuals, jacobian) => {
    for (const row of [0, 1, 2]) {
      residuals[row] = b[0]! + b[1]! - row
      jacobian.set([1, 1], 2 * row)
    }
  }
  expect(minimizeSquares(sum, [0, 0], 3)).toMatchObject({ refusal: { code: 'parameters-not-determined' } })
  const idle: EvaluateModel = (b, residuals, jacobian) => {
    for (const row of [0, 1, 2]) {
      residuals[row] = b[0]! - row
      jacobian.set([1, 0], 2 * row)
    }
  }
  expect(minimizeSquares(idle, [0, 0], 3)).toMatchObject({ refusal: { code: 'parameters-not-determined' } })
})

it('turns back from parameters where the model has no value', () => {
  // sqrt(b) = 0.1 from b = 4: the first step, to b = -3.6 undamped, leaves the domain.
  const root: EvaluateModel = ([b], residuals, jacobian) => {
    residuals[0] = Math.sqrt(b!) - 0.1
    jacobian[0] = 0.5 / Math.sqrt(b!)
  }
  expect(valueOf(minimizeSquares(root, [4], 1)).parameters[0]).toBeCloseTo(0.01, 8)
  expect(minimizeSquares(root, [-1], 1)).toMatchObject({ refusal: { code: 'not-finite' } })
})

it('refuses when it runs out of iterations', () => {
  const { set } = fitReference('MGH09', 'start1')
  const from = set.parameters.map(({ start1 }) => start1)
  const outcome = minimizeSquares(evaluator(set, models['MGH09']!), from, 11, { maximumIterations: 20 })
  expect(outcome).toMatchObject({ ok: false, refusal: { code: 'not-converged' } })
})

it('gives the same answer in other units', () => {
  // Misra1a with b1 in millionths and b2 in millions: the steps are the same but for rounding.
  const { set, outcome } = fitReference('Misra1a', 'start2')
  const model: Model = (x, b) => {
    const { value, derivatives } = models['Misra1a']!(x, [b[0]! / 1e6, b[1]! * 1e6])
    return { value, derivatives: [derivatives[0]! / 1e6, derivatives[1]! * 1e6] }
  }
  const start = [set.parameters[0]!.start2 * 1e6, set.parameters[1]!.start2 / 1e6]
  const rescaled = valueOf(minimizeSquares(evaluator(set, model), start, set.x.length))
  const plain = valueOf(outcome)
  expect(relativeError(rescaled.parameters[0]! / 1e6, plain.parameters[0]!)).toBeLessThan(1e-9)
  expect(relativeError(rescaled.parameters[1]! * 1e6, plain.parameters[1]!)).toBeLessThan(1e-9)
})

it.each([
  [() => minimizeSquares(lineThroughThree, [], 3), 'minimizeSquares needs at least one parameter, got 0'],
  [() => minimizeSquares(lineThroughThree, [0, 0], 1), 'minimizeSquares needs at least 2 residuals and priors, got 1'],
  [
    () => minimizeSquares(lineThroughThree, [0, 0], 3, { priors: [{ index: 2, mean: 0, standardUncertainty: 1 }] }),
    'minimizeSquares needs priors on parameters 0 to 1, got 2',
  ],
  [
    () => minimizeSquares(lineThroughThree, [0, 0], 3, { priors: [{ index: 0, mean: 0, standardUncertainty: 0 }] }),
    'minimizeSquares needs priors with an uncertainty above 0, got 0',
  ],
])('throws for wrong arguments: %s', (call, message) => {
  expect(call).toThrow(new RangeError(message))
})
