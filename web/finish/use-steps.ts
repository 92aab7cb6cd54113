import { useCallback } from 'preact/hooks'
import type { StepsReply } from '../../server/api/finish.js'
import { finishSteps } from '../api-client.js'
import { finishTexts } from '../texts/finish.js'
import { useLoaded } from '../use-loaded.js'

/** The steps with their checks and cautions, as the service says them of a resin in the language of the page. */
export function useSteps(resinId = '') {
  const ask = useCallback(() => finishSteps(resinId), [resinId])
  const { reply, failure } = useLoaded(ask, finishTexts.failed)
  return { steps: reply?.steps ?? [], failure }
}

/** Cautions of steps, each told once. */
export const cautionsOf = (
  steps: StepsReply['steps'],
  ...names: readonly StepsReply['steps'][number]['name'][]
): StepsReply['steps'][number]['cautions'] => {
  const all = names.flatMap((name) => steps.find((step) => step.name === name)?.cautions ?? [])
  return all.filter(({ id }, i) => all.findIndex((one) => one.id === id) === i)
}
