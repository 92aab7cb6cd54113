import { DatabaseSync } from '@photostructure/sqlite'
import { createHash } from 'node:crypto'
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { mayStand, type Ledger } from './ledger.js'

/** Only what went wrong; nothing is to be in it. */
export type Faults = string[]

interface Row {
  readonly [column: string]: string | number | null
}

export interface AuditOptions {
  /** Whether every file of a photograph is read, not only those of the last uploads. */
  readonly everyFile: boolean
  /** Whether the service had started on the folder, and so put right what was left. */
  readonly started: boolean
}

/** Compares a data folder with all that was acknowledged. The service may be running. */
export function audit(folder: string, ledgers: readonly Ledger[], { everyFile, started }: AuditOptions): Faults {
  const faults: Faults = []
  const expect = (holds: boolean, fault: () => string) => void (holds || faults.push(fault()))
  const db = new DatabaseSync(join(folder, 'stepglass.sqlite'), { readOnly: true })
  const rows = (sql: string) => db.prepare(sql).all() as unknown as Row[]
  const none = (what: string, sql: string) => rows(sql).forEach((row) => faults.push(`${what}: ${JSON.stringify(row)}`))
  const by = (key: string, sql: string) => new Map(rows(sql).map((row) => [row[key], row]))
  try {
    db.exec('pragma busy_timeout = 10000; begin')
    none('integrity', "select * from pragma_integrity_check where integrity_check <> 'ok'")
    none('a row without the one it belongs to', 'select * from pragma_foreign_key_check')
    none(
      'a photograph without a reading',
      'select photo_id from photos where photo_id not in (select photo_id from readings)',
    )
    none(
      'a finished reading without its result or what it says',
      "select reading_id from readings where state = 'done' and (result is null or outcome is null or (ladder_id is null and outcome ->> 'refusal' is null))",
    )
    none(
      'a failed reading',
      "select reading_id, failure from readings where state = 'failed' and failure ->> '$.code' <> 'ended-the-program'",
    )
    none(
      'two of one name',
      "select content ->> '$.name' as name from records where name <> '' group by name having count(*) > 1",
    )
    none(
      'a setting taken in without its sheet',
      "select record_id from records where content ->> '$.origin' = 'received' and record_id not in (select setting_id from sheets)",
    )
    none(
      'a coupon left out twice',
      'select * from left_out where lifted_at is null group by photo_id, slot having count(*) > 1',
    )

    const uploads = by('upload_id', 'select * from uploads')
    const photos = by('photo_id', 'select photo_id, extension, bytes from photos')
    const readings = by('reading_id', 'select reading_id, photo_id, state from readings')
    const records = by(
      'record_id',
      `select record_id, content ->> '$.name' as name, (select count(*) from record_versions
       where record_versions.record_id = records.record_id) as changes from records`,
    )
    const ladders = by('ladder_id', 'select ladder_id from ladders')
    const sheets = by('sheet_id', 'select sheet_id from sheets')
    const keys = by('public_key', 'select public_key, name from known_keys')
    const leftOut = by(
      'coupon',
      "select photo_id || ' ' || slot as coupon, reason from left_out where lifted_at is null",
    )
    for (const ledger of ledgers) {
      for (const [uploadId, { photoId, readingId }] of ledger.photos) {
        expect(photos.has(photoId), () => `lost photograph ${photoId}`)
        expect(readings.get(readingId)?.['photo_id'] === photoId, () => `lost reading ${readingId}`)
        expect(uploads.get(uploadId)?.['reading_id'] === readingId, () => `lost upload ${uploadId}`)
        const state = readings.get(readingId)?.['state']
        expect(!ledger.done.has(readingId) || state === 'done', () => `${readingId} was done and is ${state}`)
        if (state === 'done') ledger.done.add(readingId)
      }
      for (const [recordId, record] of ledger.records) {
        const names = mayStand(record)
        const now = records.get(recordId)
        expect(
          names.includes(String(now?.['name'])),
          () => `record ${recordId} is ${now?.['name']}, not ${names.join()}`,
        )
        expect(Number(now?.['changes']) >= record.changes, () => `record ${recordId} has lost what it was before`)
      }
      for (const ladderId of ledger.ladders) expect(ladders.has(ladderId), () => `lost ladder ${ladderId}`)
      for (const sheetId of ledger.sheets) expect(sheets.has(sheetId), () => `lost sheet ${sheetId}`)
      for (const [key, name] of ledger.knownKeys) expect(keys.get(key)?.['name'] === name, () => `lost key ${name}`)
      for (const [coupon, history] of ledger.leftOut) {
        const reasons = mayStand(history)
        const reason = (leftOut.get(coupon)?.['reason'] ?? null) as string | null
        expect(reasons.includes(reason), () => `${coupon} is left out for ${reason}, not for ${reasons.join()}`)
      }
    }
    expect(new Set(ledgers.flatMap(({ ownKeys }) => [...ownKeys])).size <= 1, () => 'the signing key changed')

    const files = new Set(readdirSync(join(folder, 'photos')))
    for (const { photo_id: photoId, extension } of photos.values()) {
      expect(files.delete(`${photoId}.${extension}`), () => `the file of ${photoId} is gone`)
    }
    if (started) expect(files.size === 0, () => `files that no record names: ${[...files].join()}`)
    const recent = everyFile ? [...photos.values()] : [...photos.values()].slice(-5)
    for (const { photo_id: photoId, extension } of recent) {
      const file = join(folder, 'photos', `${photoId}.${extension}`)
      if (!existsSync(file)) continue
      const bytes = readFileSync(file)
      const sum = createHash('sha256').update(bytes).digest('hex')
      expect(sum === photoId, () => `the file of ${photoId} is not as it came`)
    }
  } finally {
    db.close()
  }
  return faults
}
