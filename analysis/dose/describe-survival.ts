import type { SurvivalModel as SurvivalReply, SurvivalPoint as PointReply } from '../result.js'
import { fitSurvivals } from './survival-bounds.js'
import { exposureForSurvival, type SurvivalModel, type SurvivalPoint } from './survival-model.js'
import type { SurvivalRung } from './survival-range.js'

/** Survival as the result tells it: a model a kind, with the exposures at which each size printed survives. */
export function describeSurvival(rungs: readonly SurvivalRung[]): SurvivalReply[] {
  const models = fitSurvivals(rungs)
  return [models.line, models.space].flatMap((model) => (model.ok ? describe(model.value) : []))
}

export const pointOf = ({ value, interval, reachesEnd }: SurvivalPoint): PointReply => ({
  value,
  interval: [...interval],
  reachesEnd: { ...reachesEnd },
})

function describe(model: SurvivalModel): SurvivalReply {
  const { kind, fit, referenceS, referenceUm } = model
  return {
    kind,
    coefficients: [...fit.coefficients],
    referenceUm,
    referenceS,
    sizes: model.sizesUm.map((nominalUm) => {
      const half = exposureForSurvival(model, { nominalUm, chance: 0.5 })
      const most = exposureForSurvival(model, { nominalUm, chance: 0.95 })
      return {
        nominalUm,
        ...(half.ok ? { survives50S: pointOf(half.value) } : {}),
        ...(most.ok ? { survives95S: pointOf(most.value) } : {}),
      }
    }),
  }
}
