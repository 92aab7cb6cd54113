import { useEffect, useState } from 'preact/hooks'
import type { ExpectedReply } from '../../server/api/planning.js'
import { getExpected } from '../api-client.js'
import { toFailure, type Failure } from '../views/failure-note.js'
import { workTexts } from '../texts/work.js'

/** A slider moves many times a second; one asks when it rests. */
const REST_MS = 120

export interface Expected {
  readonly exposureS: number
  readonly layerUm: number
  readonly reply: ExpectedReply
}

/** What to expect of an exposure at a layer height. The last answer stays until the next one is there. */
export function useExpected(
  readingId: string,
  exposureS: number,
  layerUm: number,
): { expected: Expected | undefined; failure: Failure | undefined } {
  const [expected, setExpected] = useState<Expected>()
  const [failure, setFailure] = useState<Failure>()
  useEffect(() => {
    const asked = new AbortController()
    const rest = setTimeout(() => {
      getExpected(readingId, { exposureS, layerUm }, asked.signal).then(
        (reply) => {
          setExpected({ exposureS, layerUm, reply })
          setFailure(undefined)
        },
        (error: unknown) => {
          if (!asked.signal.aborted) setFailure(toFailure(error, workTexts.whatIf.failed))
        },
      )
    }, REST_MS)
    return () => {
      clearTimeout(rest)
      asked.abort()
    }
  }, [readingId, exposureS, layerUm])
  return { expected, failure }
}
