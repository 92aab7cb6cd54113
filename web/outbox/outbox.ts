import { createStore, del, entries, set, update } from 'idb-keyval'
import type { PhotoAccepted } from '../../server/api/readings.js'
import { findUpload, sendPhoto, ServiceError } from '../api-client.js'

/** A photograph that the service has not confirmed yet. It lies in the browser's database, so that a reload keeps it. */
export interface Parcel {
  readonly uploadId: string
  readonly name: string
  readonly type: string
  readonly bytes: ArrayBuffer
  readonly addedAt: string
  /** Why the service will not take it. Default: it has not said so. */
  readonly refused?: string
}

const store = createStore('stepglass-outbox', 'parcels')
const changed = new EventTarget()
const sending = new Set<string>()
const RETRY_MS = 5_000
/** The service asked for patience until then. */
let restUntilMs = 0

/** `crypto.randomUUID` exists on https and localhost only; a phone in the workshop has neither. */
const newUploadId = (): string =>
  [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, '0')).join('')

const tell = () => changed.dispatchEvent(new Event('change'))

export async function listParcels(): Promise<Parcel[]> {
  const parcels = (await entries<string, Parcel>(store)).map(([, parcel]) => parcel)
  return parcels.sort((a, b) => a.addedAt.localeCompare(b.addedAt))
}

export const isSending = (uploadId: string): boolean => sending.has(uploadId)

export function onOutboxChange(listener: () => void): () => void {
  changed.addEventListener('change', listener)
  return () => changed.removeEventListener('change', listener)
}

export async function dropParcel(uploadId: string): Promise<void> {
  await del(uploadId, store)
  tell()
}

/**
 * Puts a photograph into the outbox and sends it.
 *
 * @returns what it became; nothing while the service cannot be reached: then it stays in the outbox
 * @throws {ServiceError} if the service will not take it
 */
export async function post(photo: File): Promise<PhotoAccepted | undefined> {
  const parcel: Parcel = {
    uploadId: newUploadId(),
    name: photo.name,
    type: photo.type,
    bytes: await photo.arrayBuffer(),
    addedAt: new Date().toISOString(),
  }
  // A browser that keeps nothing (private windows) can still send.
  await set(parcel.uploadId, parcel, store).catch(() => undefined)
  try {
    return await deliver(parcel, { again: false })
  } catch (error) {
    await dropParcel(parcel.uploadId)
    throw error
  }
}

/** Not reached, not signed in, too many at once, or the service is in trouble: the photograph stays until it is taken. */
const mayYetBeTaken = (status: number) => status === 0 || status === 401 || status === 429 || status >= 500

/** Sends one parcel unless another tab does; twice sent counts once, for it keeps its name. */
async function deliver(parcel: Parcel, { again }: { again: boolean }): Promise<PhotoAccepted | undefined> {
  const { uploadId, name, type, bytes } = parcel
  if (sending.has(uploadId)) return undefined
  sending.add(uploadId)
  tell()
  try {
    // It may have arrived although its answer was lost.
    const arrived = again ? await findUpload(uploadId).catch(() => undefined) : undefined
    const accepted = arrived ?? (await sendPhoto(new File([bytes], name, { type }), uploadId))
    await del(uploadId, store)
    return accepted
  } catch (error) {
    if (error instanceof ServiceError && mayYetBeTaken(error.status)) {
      restUntilMs = Date.now() + 1000 * error.retryAfterS
      return undefined
    }
    throw error
  } finally {
    sending.delete(uploadId)
    tell()
  }
}

/**
 * Sends what waits, now and whenever there is hope that the service can be reached again.
 *
 * @param onArrived told of each photograph that arrived this way
 * @returns stops it
 */
export function keepSending(onArrived: (parcel: Parcel, accepted: PhotoAccepted) => void): () => void {
  let busy = false
  async function round(): Promise<void> {
    if (busy || Date.now() < restUntilMs) return
    busy = true
    try {
      for (const parcel of await listParcels()) {
        if (parcel.refused !== undefined) continue
        try {
          const accepted = await deliver(parcel, { again: true })
          if (accepted) onArrived(parcel, accepted)
        } catch (error) {
          const refused = error instanceof Error ? error.message : String(error)
          await update<Parcel>(parcel.uploadId, (kept) => ({ ...(kept ?? parcel), refused }), store)
          tell()
        }
      }
    } catch {
      // A browser that keeps nothing has nothing waiting either.
    } finally {
      busy = false
    }
  }
  const again = () => void round()
  const timer = setInterval(again, RETRY_MS)
  window.addEventListener('online', again)
  again()
  return () => {
    clearInterval(timer)
    window.removeEventListener('online', again)
  }
}
