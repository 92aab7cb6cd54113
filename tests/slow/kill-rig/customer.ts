import { createHash, generateKeyPairSync } from 'node:crypto'
import { fullSheet } from '../../server/sheets/sheets.js'
import type { Ledger } from './ledger.js'

/** Draws from [0, 1). */
export type Draw = () => number

const LETTERS = '0123456789ABCDEFGHJKLMNPQRSTUVWXYZ'
const nameOf = (draw: Draw, length: number) =>
  Array.from({ length }, () => LETTERS[Math.floor(draw() * LETTERS.length)]).join('')

/** A file of 10 to 150 kB that no other upload has. */
export function randomBytes(draw: Draw): Uint8Array {
  const bytes = new Uint8Array(10_000 + Math.floor(140_000 * draw() ** 3))
  for (let i = 0; i < bytes.length; i += 97) bytes[i] = Math.floor(draw() * 256)
  return bytes
}

/** Somebody who uses everything that writes, and writes down what was acknowledged. */
export function customer(address: string, ledger: Ledger, draw: Draw, photo: (draw: Draw) => Uint8Array) {
  const headers = { 'content-type': 'application/json' }

  /** @returns the answer, or nothing if there was none before the end */
  async function ask<T>(method: string, path: string, body?: object): Promise<T | undefined> {
    let reply: Response
    let text: string
    try {
      const form = body instanceof FormData
      reply = await fetch(`${address}/api/${path}`, {
        method,
        ...(body && { body: form ? body : JSON.stringify(body) }),
        ...(body && !form && { headers }),
      })
      text = await reply.text()
    } catch {
      return undefined
    }
    if (!reply.ok) throw new Error(`${method} ${path}: ${reply.status} ${text}`)
    return JSON.parse(text) as T
  }
  const one = <T>(from: Iterable<T>): T | undefined => {
    const all = [...from]
    return all[Math.floor(draw() * all.length)]
  }

  async function send(uploadId: string, bytes: Uint8Array): Promise<void> {
    ledger.unsent.set(uploadId, bytes)
    const form = new FormData()
    form.set('uploadId', uploadId)
    form.set('photo', new Blob([new Uint8Array(bytes)]), draw() < 0.5 ? 'bench.jpg' : 'bench.jpeg')
    const accepted = await ask<{ photoId: string; readingId: string }>('POST', 'photos', form)
    if (!accepted) return
    const expected = createHash('sha256').update(bytes).digest('hex')
    if (accepted.photoId !== expected) throw new Error(`photograph ${expected} was taken for ${accepted.photoId}`)
    ledger.photos.set(uploadId, accepted)
    ledger.unsent.delete(uploadId)
  }

  /** What must have been acknowledged before. */
  const known = () => one(ledger.records.keys())

  const doings: readonly (readonly [number, () => Promise<void>])[] = [
    [0.45, () => send(nameOf(draw, 20), photo(draw))],
    [
      0.12,
      async () => {
        const name = nameOf(draw, 12)
        const added = await ask<{ recordId: string }>('POST', 'bottles', { name })
        if (added) ledger.records.set(added.recordId, { sent: [name], from: 0, changes: 0 })
      },
    ],
    [
      0.15,
      async () => {
        const recordId = known()
        const record = recordId === undefined ? undefined : ledger.records.get(recordId)
        if (recordId === undefined || !record) return
        const name = nameOf(draw, 12)
        record.sent.push(name)
        if (!(await ask('PATCH', `bottles/${recordId}`, { content: { name } }))) return
        record.from = record.sent.length - 1
        record.changes++
      },
    ],
    [
      0.06,
      async () => {
        const plan = { layerHeightUm: 50, pixelPitchUm: 34, exposuresS: [2, 3] }
        const planned = await ask<{ design: { ladderId: string } }>('POST', 'ladders/plan', plan)
        if (planned) ledger.ladders.add(planned.design.ladderId)
      },
    ],
    [
      0.1,
      async () => {
        const photoId = one(ledger.photos.values())?.photoId
        if (photoId === undefined) return
        const slot = 1 + Math.floor(draw() * 3)
        const coupon = `${photoId} ${slot}`
        const reason = draw() < 0.3 ? null : nameOf(draw, 8)
        const history = ledger.leftOut.get(coupon) ?? { sent: [null], from: 0 }
        ledger.leftOut.set(coupon, history)
        history.sent.push(reason)
        const path = `photos/${photoId}/left-out/${slot}`
        const told = await (reason === null ? ask('DELETE', path) : ask('PUT', path, { reason }))
        if (told) history.from = history.sent.length - 1
      },
    ],
    [
      0.06,
      async () => {
        const sheetId = nameOf(draw, 8)
        const form = new FormData()
        form.set('sheet', new Blob([JSON.stringify({ ...fullSheet, sheetId })]), 'sheet.json')
        if (await ask('POST', 'settings/take-in', form)) ledger.sheets.add(sheetId)
      },
    ],
    [
      0.06,
      async () => {
        const own = await ask<{ publicKey: string }>('GET', 'signing-key')
        if (own) ledger.ownKeys.add(own.publicKey)
        const { publicKey } = generateKeyPairSync('ed25519')
        const known = { publicKey: publicKey.export({ format: 'jwk' }).x ?? '', name: nameOf(draw, 8) }
        if (await ask('POST', 'known-keys', known)) ledger.knownKeys.set(known.publicKey, known.name)
      },
    ],
  ]

  return {
    ask,
    send,

    /** Does one thing after the other until the service is gone. */
    async use(gone: AbortSignal): Promise<void> {
      while (!gone.aborted) {
        let left = draw()
        const [, doing] = doings.find(([share]) => (left -= share) < 0) ?? doings[0]!
        await doing()
      }
    },

    /** Sends again what was not acknowledged, once it knows that it did not arrive. */
    async sendAgain(): Promise<void> {
      for (const [uploadId, bytes] of [...ledger.unsent]) {
        const reply = await fetch(`${address}/api/uploads/${uploadId}`)
        if (reply.ok) {
          ledger.photos.set(uploadId, (await reply.json()) as { photoId: string; readingId: string })
          ledger.unsent.delete(uploadId)
        } else await send(uploadId, bytes)
      }
    },
  }
}
