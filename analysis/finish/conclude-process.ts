import type { AnyRung, AnyReadRung } from '../dose-rungs.js'
import { FACTORS, type Factor } from '../layout/factors.js'
import type { LadderDesign } from '../layout/schema.js'
import { refuse } from '../outcome.js'
import { describeProcess } from './describe-process.js'
import { planLevels } from './plan-levels.js'
import { readProcessLadder, type ProcessReading } from './process-ladder.js'
import type { ProcessConclusion, ProcessOf, ProcessResponse, ProcessSuggestion } from './process-schema.js'

const RESPONSES: readonly ProcessOf[] = ['haze', 'yellownessPerMm', 'growthUm']
/** Clearer is better; growth is told, but no finish is chosen by it. */
const WON: readonly ProcessOf[] = ['haze', 'yellownessPerMm']

/** What the rungs of a process ladder say together: each response by itself, and the level to use. */
export function concludeProcess(
  { factor, levels, ladderId }: LadderDesign & { readonly factor: Factor; readonly levels: readonly string[] },
  rungs: readonly AnyRung[],
): ProcessConclusion {
  const responses = RESPONSES.flatMap((of): ProcessResponse[] => {
    const readings = rungs.flatMap((rung): ProcessReading[] => {
      const measured = 'growthUm' in rung ? measuredOf(rung, of) : undefined
      const level = levels[rung.slot - 1]
      return measured && level !== undefined
        ? [{ level, ...measured, coupon: `${ladderId} ${rung.slot}`, photo: ladderId, photoUncertainty: 0 }]
        : []
    })
    const fitted = readProcessLadder(factor, readings)
    return fitted.ok ? [{ of, ...describeProcess(fitted.value, readings) }] : []
  })
  const suggestion = suggest(responses)
  return {
    factor,
    unit: FACTORS[factor].unit,
    responses,
    ...(suggestion ? { suggestion } : { noSuggestion: whyNone(factor, responses) }),
    ...nextLevels(factor, levels, responses, suggestion),
  }
}

/** A response of a coupon with what differs from coupon to coupon. */
export function measuredOf(rung: AnyReadRung, of: ProcessOf) {
  if (of !== 'growthUm') return rung[of] && { value: rung[of].value, standardUncertainty: rung[of].standardUncertainty }
  return { value: rung.growthUm.value, standardUncertainty: rung.growthUm.withinPhotoUncertainty }
}

/** The most that any response which can be won asks for. */
function suggest(responses: readonly ProcessResponse[]): ProcessSuggestion | undefined {
  const costs = responses.filter(({ of, verdict }) => WON.includes(of) && verdict === 'rises').map(({ of }) => of)
  const plateaus = responses.flatMap(({ of, verdict, saturating }) =>
    WON.includes(of) && verdict === 'falls' && saturating ? [{ of, ...saturating }] : [],
  )
  if (plateaus.length > 0) {
    const { of, enough, reached } = plateaus.reduce((a, b) => (b.enough.value > a.enough.value ? b : a))
    const level = roundedUp(enough.value)
    return { level, interval: enough.interval, by: of, rule: 'plateau', reached, costs }
  }
  const [step] = responses.flatMap(({ of, steps }) =>
    WON.includes(of) && steps?.best !== undefined
      ? [{ level: steps.best, by: of, reached: steps.best !== steps.means.at(-1)?.level }]
      : [],
  )
  return step && { ...step, rule: 'last-step', costs }
}

/** Two digits, never less than asked for: `14.98` is `15`. */
function roundedUp(amount: number): string {
  const unit = 10 ** (Math.floor(Math.log10(amount)) - 1)
  return String(Number((Math.ceil(amount / unit - 1e-9) * unit).toPrecision(2)))
}

function whyNone(factor: Factor, responses: readonly ProcessResponse[]) {
  const clear = responses.filter(({ of }) => WON.includes(of))
  if (clear.length === 0) {
    return refuse('process-not-read', 'Photograph the card again: too few windows could be read.').refusal
  }
  if (clear.some(({ line, noPlateau }) => line && !noPlateau)) {
    return refuse('trend-only', 'Read the trend: no level is enough by itself.', FACTORS[factor].name).refusal
  }
  return refuse(
    'no-gain-shown',
    'Neither haze nor yellowness shows a gain that ends: print more coupons of each level, or levels further apart.',
    clear.map(({ of, verdict }) => `${of} ${verdict}`).join(', '),
  ).refusal
}

function nextLevels(
  factor: Factor,
  levels: readonly string[],
  responses: readonly ProcessResponse[],
  suggestion: ProcessSuggestion | undefined,
): Pick<ProcessConclusion, 'nextLevels'> {
  const looked = responses.some(({ of, saturating, noPlateau }) => WON.includes(of) && (saturating ?? noPlateau))
  if (!looked || suggestion?.reached) return {}
  const most = Math.max(...levels.map(Number))
  return {
    nextLevels: planLevels(
      factor,
      0,
      2 * (suggestion?.interval ? Math.min(suggestion.interval[1], 2 * most) : most),
      6,
    ),
  }
}
