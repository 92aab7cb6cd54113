import { useEffect, useState } from 'preact/hooks'
import { toFailure, type Failure } from './views/failure-note.js'

/**
 * What the service answers to one question, asked again whenever the question changes.
 *
 * @param ask stays the same function while the question does
 * @param failed what to say when there is no answer
 */
export function useLoaded<Reply>(ask: () => Promise<Reply>, failed: string) {
  const [reply, setReply] = useState<Reply>()
  const [failure, setFailure] = useState<Failure>()
  const [attempt, setAttempt] = useState(0)
  useEffect(() => {
    let gone = false
    setFailure(undefined)
    ask().then(
      (loaded) => !gone && setReply(loaded),
      (error: unknown) => !gone && setFailure(toFailure(error, failed)),
    )
    return () => {
      gone = true
    }
  }, [ask, failed, attempt])
  return { reply, setReply, failure, reload: () => setAttempt((n) => n + 1) }
}

/** Runs one change at a time and keeps what went wrong. */
export function useChange(failed: string) {
  const [busy, setBusy] = useState(false)
  const [failure, setFailure] = useState<Failure>()
  const run = async (change: () => Promise<void>): Promise<void> => {
    setBusy(true)
    setFailure(undefined)
    try {
      await change()
    } catch (error) {
      setFailure(toFailure(error, failed))
    }
    setBusy(false)
  }
  return { busy, failure, run: (change: () => Promise<void>) => void run(change) }
}
