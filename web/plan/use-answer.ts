import { useState } from 'preact/hooks'
import { planTexts } from '../texts/plan.js'
import { toFailure, type Failure } from '../views/failure-note.js'

/** One question to the service at a time, with its answer or failure. */
export function useAnswer<Reply>() {
  const [reply, setReply] = useState<Reply>()
  const [busy, setBusy] = useState(false)
  const [failure, setFailure] = useState<Failure>()
  const ask = async (question: () => Promise<Reply>): Promise<void> => {
    setBusy(true)
    setFailure(undefined)
    try {
      setReply(await question())
    } catch (error) {
      setReply(undefined)
      setFailure(toFailure(error, planTexts.failed))
    }
    setBusy(false)
  }
  /** Says what is missing before the service is asked. */
  const refuse = (message: string): void => {
    setReply(undefined)
    setFailure({ message })
  }
  return { reply, busy, failure, refuse, ask: (question: () => Promise<Reply>) => void ask(question) }
}

/** Typed millimetres in um. Typed decimals times 1000 may miss the whole number they mean by a rounding error. */
export const umOfMm = (typed: string): number => Number((Number(typed) * 1000).toFixed(3))
