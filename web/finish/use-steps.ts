import { useEffect, useState } from 'preact/hooks'
import type { StepsReply } from '../../server/api/finish.js'
import { finishSteps } from '../api-client.js'
import { toFailure, type Failure } from '../views/failure-note.js'
import { finishTexts } from '../texts/finish.js'

/** The steps with their checks and cautions, as the service has them. */
export function useSteps(): { readonly steps: StepsReply['steps']; readonly failure?: Failure } {
  const [steps, setSteps] = useState<StepsReply['steps']>([])
  const [failure, setFailure] = useState<Failure>()
  useEffect(() => {
    let gone = false
    finishSteps().then(
      (reply) => !gone && setSteps(reply.steps),
      (error: unknown) => !gone && setFailure(toFailure(error, finishTexts.failed)),
    )
    return () => {
      gone = true
    }
  }, [])
  return { steps, ...(failure && { failure }) }
}

/** Cautions of one step, before anything is worked out. */
export const cautionsOf = (steps: StepsReply['steps'], name: StepsReply['steps'][number]['name']) =>
  steps.find((step) => step.name === name)?.cautions ?? []
