import type { CompareBy, CompareOf, Comparison } from '../server/api/compare.js'
import type { ErrorReply } from '../server/api/common.js'
import type {
  PostCureBody,
  PostCureReply,
  PrepareBody,
  PrepareReply,
  SmoothBody,
  SmoothReply,
  StepsReply,
  TravellerBody,
} from '../server/api/finish.js'
import type { LadderDesign, LadderRecord, PlanRequest } from '../server/api/ladders.js'
import type {
  ExpectedReply,
  FirstLadderReply,
  FirstLadderRequest,
  LampReply,
  LampRequest,
  LayerHeightReply,
  LayerHeightRequest,
  LevelsReply,
  LevelsRequest,
  WorkingCurveReply,
  WorkingCurveRequest,
} from '../server/api/planning.js'
import type {
  CombinedReply,
  PhotoAccepted,
  ReadingList,
  ReadingOptions,
  ReadingProgress,
  ReadingReply,
} from '../server/api/readings.js'
import { language } from './language.js'

/** The service said no, or nothing at all (status 0). */
export class ServiceError extends Error {
  override readonly name = 'ServiceError'
  readonly status: number
  readonly advice: string | undefined
  /** When the service says it can be asked again, in seconds. */
  readonly retryAfterS: number
  /** Its own name for the failure. */
  readonly code: string | undefined

  constructor(status: number, message: string, advice?: string, retryAfterS = 0, code?: string) {
    super(message)
    this.status = status
    this.advice = advice
    this.retryAfterS = retryAfterS
    this.code = code
  }
}

const isErrorReply = (body: unknown): body is ErrorReply =>
  typeof body === 'object' && body !== null && 'message' in body && 'advice' in body

/** Away from here to where the passphrase is asked for, and back to the same place. */
const goToSignIn = () => window.location.assign(`/sign-in?to=%2F${window.location.hash}`)

export async function call<Reply>(path: string, init?: RequestInit): Promise<Reply> {
  const response = await fetch(path, init).catch((cause: unknown) => {
    throw new ServiceError(0, String(cause))
  })
  if (response.ok) return (await response.json()) as Reply
  const body: unknown = await response.json().catch(() => undefined)
  if (response.status === 401) goToSignIn()
  const retryAfterS = Number(response.headers.get('retry-after'))
  if (isErrorReply(body)) {
    const { inLanguage } = await import('./texts/failures.js')
    const { message, advice } = inLanguage(body)
    throw new ServiceError(response.status, message, advice, retryAfterS, body.code)
  }
  throw new ServiceError(response.status, response.statusText)
}

export const sendJson = (body: unknown): RequestInit => ({
  method: 'POST',
  headers: { 'content-type': 'application/json' },
  body: JSON.stringify(body),
})

/** @param uploadId made by the sender: however often it is sent, it counts once */
export function sendPhoto(photo: File, uploadId: string): Promise<PhotoAccepted> {
  const body = new FormData()
  body.set('uploadId', uploadId)
  body.set('photo', photo)
  return call('/api/photos', { method: 'POST', body })
}

/** Reads the photograph of a reading once more. With the options it had, the same reading is made anew. */
export const readAgain = (readingId: string, options: ReadingOptions): Promise<PhotoAccepted> =>
  call(`${readingPath(readingId)}/again`, sendJson(options))

export const listReadings = (limit: number): Promise<ReadingList> => call(`/api/readings?limit=${limit}`)

export const getReading = (readingId: string): Promise<ReadingReply> => call(readingPath(readingId))

/** One answer from all photographs of a ladder but those left out. */
export const getCombined = (ladderId: string, without: readonly string[]): Promise<CombinedReply> => {
  const query = new URLSearchParams(without.map((photoId) => ['without', photoId]))
  return call(`/api/ladders/${encodeURIComponent(ladderId)}/combined?${query}`)
}

export const makeLadder = (plan: PlanRequest): Promise<LadderRecord> => call('/api/ladders/plan', sendJson(plan))

/** What the coupons of a ladder are of; an empty label is taken away. */
export const labelLadder = (ladderId: string, labels: Record<string, string>): Promise<LadderRecord> =>
  call(`/api/ladders/${encodeURIComponent(ladderId)}`, { ...sendJson({ labels }), method: 'PATCH' })

export const getComparison = (readings: readonly string[], by: CompareBy, of: CompareOf): Promise<Comparison> =>
  call(`/api/compare?${new URLSearchParams([['by', by], ['of', of], ...readings.map((id) => ['readings', id])])}`)

/** What an upload became, if it arrived. */
export const findUpload = (uploadId: string): Promise<PhotoAccepted> => call(`/api/uploads/${uploadId}`)

/**
 * What to expect of an exposure at a layer height.
 *
 * @param signal gives the question up; the promise then fails with its reason
 */
export async function getExpected(
  readingId: string,
  { exposureS, layerUm }: { readonly exposureS: number; readonly layerUm: number },
  signal: AbortSignal,
): Promise<ExpectedReply> {
  const query = new URLSearchParams({ exposureS: String(exposureS), layerUm: String(layerUm) })
  const reply = await call<ExpectedReply>(`${readingPath(readingId)}/expected?${query}`, { signal })
  signal.throwIfAborted()
  return reply
}

export const planFirstLadder = (known: FirstLadderRequest): Promise<FirstLadderReply> =>
  call('/api/ladders/first', sendJson(known))

export const changeLayerHeight = (change: LayerHeightRequest): Promise<LayerHeightReply> =>
  call('/api/layer-height', sendJson(change))

export const fitWorkingCurve = (table: WorkingCurveRequest): Promise<WorkingCurveReply> =>
  call('/api/working-curve', sendJson(table))

export const planLevels = (wanted: LevelsRequest): Promise<LevelsReply> => call('/api/ladders/levels', sendJson(wanted))

export const changeLamp = (change: LampRequest): Promise<LampReply> => call('/api/lamp', sendJson(change))

const readingPath = (readingId: string) => `/api/readings/${encodeURIComponent(readingId)}`

export const resultUrl = readingPath

export const overlayUrl = (readingId: string): string => `${readingPath(readingId)}/overlay.jpg`

/** The photograph upright, not wider than asked. */
export const photoUrl = (photoId: string, widthPx: number): string => `/api/photos/${photoId}/image?width=${widthPx}`

export type Paper = 'a4' | 'letter'

function designQuery({
  ladderId,
  layerHeightUm,
  pixelPitchUm,
  exposuresS,
  factor,
  levels = [],
}: LadderDesign): URLSearchParams {
  const query = new URLSearchParams({
    ladderId,
    layerHeightUm: String(layerHeightUm),
    pixelPitchUm: String(pixelPitchUm),
  })
  for (const exposureS of exposuresS) query.append('exposuresS', String(exposureS))
  if (factor) query.set('factor', factor)
  for (const level of levels) query.append('levels', level)
  return query
}

export function cardUrl(design: LadderDesign, paper: Paper): string {
  const query = designQuery(design)
  query.set('paper', paper)
  return `/api/ladders/card.pdf?${query}`
}

/** Everything to print for a ladder, in one archive. */
export const kitUrl = (design: LadderDesign): string => `/api/ladders/kit.zip?${designQuery(design)}`

const RETRY_MS = 2000

/**
 * Follows a reading until it ends.
 *
 * @param onEnd called once, when the reading ended or can no longer be followed: load it again to see which
 * @returns stops following
 */
export function watchProgress(
  readingId: string,
  onProgress: (progress: ReadingProgress) => void,
  onEnd: () => void,
): () => void {
  const events = new EventSource(`${readingPath(readingId)}/progress`)
  let retry: ReturnType<typeof setTimeout> | undefined
  const stop = () => {
    clearTimeout(retry)
    events.close()
  }
  events.onmessage = (event: MessageEvent<string>) => {
    const progress = JSON.parse(event.data) as ReadingProgress
    onProgress(progress)
    if (progress.state !== 'done' && progress.state !== 'failed') return
    stop()
    onEnd()
  }
  // The browser reconnects by itself unless the service refused outright.
  events.onerror = () => {
    if (events.readyState === EventSource.CLOSED) retry = setTimeout(onEnd, RETRY_MS)
  }
  return stop
}

/** @param resinId empty: what is usual, whatever the resin */
export const finishSteps = (resinId: string): Promise<StepsReply> =>
  call(`/api/finish/steps?${new URLSearchParams({ language, ...(resinId && { resinId }) })}`)
export const planPostCure = (body: PostCureBody): Promise<PostCureReply> =>
  call('/api/finish/post-cure', sendJson(body))
export const planSmoothing = (body: SmoothBody): Promise<SmoothReply> => call('/api/finish/smooth', sendJson(body))
export const planPreparation = (body: PrepareBody): Promise<PrepareReply> => call('/api/finish/prepare', sendJson(body))

/** The route of a part as a file. */
export async function travellerPdf(body: TravellerBody): Promise<Blob> {
  const response = await fetch('/api/finish/traveller.pdf', sendJson(body)).catch((cause: unknown) => {
    throw new ServiceError(0, String(cause))
  })
  if (response.ok) return response.blob()
  throw new ServiceError(response.status, response.statusText)
}
