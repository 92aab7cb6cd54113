import type { CouponLabels } from '../../analysis/index.js'
import type { ArchiveContents } from '../api/archive.js'
import type { Store } from '../storage/store.js'
import { zipStream, type ZipEntry } from './zip-stream.js'

/** Zips larger or of more files than these need an extension that not every program can open. */
export const MAX_ARCHIVE = { bytes: 4e9, files: 65_000 }

async function* once(text: string): AsyncGenerator<Uint8Array> {
  yield Buffer.from(text)
}

const parsed = (text: string): unknown => JSON.parse(text)

/** All that is on record, as one file of it states it; without photographs whose file is gone, which cannot go along. */
export async function archiveContents({ db, sheets, files }: Store): Promise<ArchiveContents> {
  const [records, versions, ladders, allPhotos, leftOutAll] = await Promise.all([
    db.selectFrom('records').selectAll().execute(),
    db.selectFrom('record_versions').selectAll().orderBy('number').execute(),
    db.selectFrom('ladders').selectAll().execute(),
    db.selectFrom('photos').selectAll().execute(),
    db.selectFrom('left_out').selectAll().orderBy('number').execute(),
  ])
  const there = await Promise.all(allPhotos.map((photo) => files.has(photo.photo_id, photo.extension)))
  const photos = allPhotos.filter((_photo, i) => there[i])
  const sent = new Set(photos.map(({ photo_id: photoId }) => photoId))
  const goesAlong = ({ photo_id: photoId }: { photo_id: string }) => sent.has(photoId)
  const leftOut = leftOutAll.filter(goesAlong)
  const earlier = new Map<string, typeof versions>()
  for (const version of versions) earlier.set(version.record_id, [...(earlier.get(version.record_id) ?? []), version])
  const archived = (archived_at: string | null) => (archived_at === null ? {} : { archivedAt: archived_at })
  const readings = await db
    .selectFrom('readings')
    .select(['reading_id', 'photo_id', 'options', 'created_at', 'finished_at', 'state'])
    .orderBy('number')
    .execute()
  const contents = {
    schema: 'stepglass-archive-1',
    exportedAt: new Date().toISOString(),
    records: records.map((row) => ({
      kind: row.kind,
      recordId: row.record_id,
      createdAt: row.created_at,
      changedAt: row.changed_at,
      ...archived(row.archived_at),
      content: parsed(row.content),
      earlier: (earlier.get(row.record_id) ?? []).map((version) => ({
        content: parsed(version.content),
        ...archived(version.archived_at),
        changedAt: version.changed_at,
      })),
    })),
    ladders: ladders.map((row) => ({
      design: parsed(row.design),
      createdAt: row.created_at,
      labels: parsed(row.labels) as CouponLabels,
      facts: parsed(row.facts),
      origin: row.origin,
      ...archived(row.archived_at),
    })),
    photos: photos.map((row) => ({
      photoId: row.photo_id,
      extension: row.extension,
      name: row.name,
      bytes: row.bytes,
      simulated: row.simulated === 1,
      createdAt: row.created_at,
    })),
    readings: readings.filter(goesAlong).map((row) => ({
      readingId: row.reading_id,
      photoId: row.photo_id,
      options: parsed(row.options),
      createdAt: row.created_at,
      ...(row.finished_at !== null && { finishedAt: row.finished_at }),
      hasResult: row.state === 'done',
    })),
    leftOut: leftOut.map((row) => ({
      photoId: row.photo_id,
      slot: row.slot,
      reason: row.reason,
      createdAt: row.created_at,
      ...(row.lifted_at !== null && { liftedAt: row.lifted_at }),
    })),
    sheets: (await sheets.all()).map(({ settingId, createdAt, sheet }) => ({ settingId, createdAt, sheet })),
    knownKeys: await sheets.knownKeys(),
  }
  return contents as ArchiveContents
}

/** Everything as one zip: `stepglass.json`, then each photograph, then the result of each reading. */
export function exportArchive(store: Store, contents: ArchiveContents): AsyncGenerator<Uint8Array> {
  async function* entries(): AsyncGenerator<ZipEntry> {
    yield { name: 'stepglass.json', chunks: once(JSON.stringify(contents, undefined, 1)), compress: true }
    for (const { photoId, extension } of contents.photos) {
      const chunks = store.files.chunks(photoId, extension)
      yield { name: `photos/${photoId}.${extension}`, chunks, compress: false }
    }
    for (const { readingId, hasResult } of contents.readings) {
      if (!hasResult) continue
      const { result } = await store.db
        .selectFrom('readings')
        .select('result')
        .where('reading_id', '=', readingId)
        .executeTakeFirstOrThrow()
      yield { name: `readings/${readingId}.json`, chunks: once(result ?? 'null'), compress: true }
    }
  }
  return zipStream(entries())
}
