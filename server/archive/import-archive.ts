import { Readable } from 'node:stream'
import { Value } from 'typebox/value'
import { ArchiveContents, type ImportReply } from '../api/archive.js'
import { describeSchemaErrors, ServiceError } from '../plugins/errors.js'
import { recordRow } from '../storage/records.js'
import type { Store } from '../storage/store.js'
import { unzipStream, type UnzippedFile } from './zip-stream.js'

const CONTENTS = 'stepglass.json'
const MAX_CONTENTS_BYTES = 300e6
const MAX_FILE_BYTES = 60e6

export const unusableArchive = (
  message: string,
  advice = 'Export it again where it came from, and copy the file whole.',
) => new ServiceError(422, 'unusable-archive', message, advice)

function contentsOf({ name, bytes }: UnzippedFile): ArchiveContents {
  if (name !== CONTENTS)
    throw unusableArchive(
      `The archive begins with ${name}, not with ${CONTENTS}.`,
      'Choose a file that Stepglass exported.',
    )
  let contents: unknown
  try {
    contents = JSON.parse(Buffer.from(bytes).toString())
  } catch {
    throw unusableArchive(`${CONTENTS} is not JSON.`)
  }
  if (Value.Check(ArchiveContents, contents)) return contents
  const [first] = Value.Errors(ArchiveContents, contents)
  throw unusableArchive(`${CONTENTS} does not hold what it should: ${first ? describeSchemaErrors([first], '') : ''}.`)
}

/** Adds what an archive holds and is not here yet; what is here stays as it is, so that importing twice is once. */
export async function importArchive(store: Store, chunks: AsyncIterable<Uint8Array>): Promise<ImportReply> {
  try {
    return await addAll(
      store,
      unzipStream(chunks, (name) => (name === CONTENTS ? MAX_CONTENTS_BYTES : MAX_FILE_BYTES)),
    )
  } catch (error) {
    if (error instanceof RangeError) throw unusableArchive(`The archive cannot be used: ${error.message}.`)
    throw error
  }
}

async function addAll(store: Store, files: AsyncGenerator<UnzippedFile>): Promise<ImportReply> {
  const first = await files.next()
  if (first.done) throw unusableArchive('The file is not a zip archive.', 'Choose a file that Stepglass exported.')
  const contents = contentsOf(first.value)
  const added = { records: 0, ladders: 0, photos: 0, readings: 0 }
  const photos = new Map(contents.photos.map((photo) => [`photos/${photo.photoId}.${photo.extension}`, photo]))
  const readings = new Map(contents.readings.map((reading) => [`readings/${reading.readingId}.json`, reading]))
  const arrived = new Set<string>()
  for await (const { name, bytes } of files) {
    const photo = photos.get(name)
    const reading = readings.get(name)
    if (photo) {
      const received = await store.files.receive(Readable.from([bytes]))
      if (received.photoId !== photo.photoId) {
        await store.files.discard(received)
        throw unusableArchive(`${name} is not the photograph it should be.`)
      }
      arrived.add(photo.photoId)
      added.photos += await store.addPhoto(received, photo).finally(() => store.files.discard(received))
    } else if (reading) {
      if (!arrived.has(reading.photoId)) throw unusableArchive(`The photograph of ${name} is missing.`)
      const result = Buffer.from(bytes).toString()
      added.readings += await store.atOnce(({ readings }) => readings.addFinished(reading, result))
    } else throw unusableArchive(`${name} is not named in ${CONTENTS}.`)
  }
  const missing = contents.photos.find(({ photoId }) => !arrived.has(photoId))
  if (missing) throw unusableArchive(`The photograph ${missing.name} is missing.`)
  for (const reading of contents.readings.filter(({ hasResult }) => !hasResult))
    if (arrived.has(reading.photoId)) await store.readings.ensure(reading.photoId, reading.options)
  added.ladders = await addLadders(store, contents)
  added.records = await addRecords(store, contents)
  await addLeftOut(store, contents)
  await addSheets(store, contents)
  const kinds = Object.keys(added) as (keyof typeof added)[]
  const alreadyThere = Object.fromEntries(kinds.map((kind) => [kind, contents[kind].length - added[kind]]))
  return { added, alreadyThere: alreadyThere as typeof added }
}

async function addLadders({ db }: Store, { ladders }: ArchiveContents): Promise<number> {
  let count = 0
  for (const { design, createdAt, labels = {}, facts, origin, archivedAt } of ladders) {
    const row = {
      ladder_id: design.ladderId,
      design: JSON.stringify(design),
      created_at: createdAt,
      labels: JSON.stringify(labels),
      facts: JSON.stringify(facts),
      origin,
      archived_at: archivedAt ?? null,
    }
    const [{ numInsertedOrUpdatedRows = 0n } = {}] = await db
      .insertInto('ladders')
      .values(row)
      .onConflict((conflict) => conflict.doNothing())
      .execute()
    count += Number(numInsertedOrUpdatedRows)
  }
  return count
}

function addRecords({ db }: Store, { records }: ArchiveContents): Promise<number> {
  return db.transaction().execute(async (change) => {
    let count = 0
    for (const { recordId, kind, content, earlier, ...times } of records) {
      const inserted = await change
        .insertInto('records')
        .values(recordRow(kind, recordId, content, times))
        .onConflict((conflict) => conflict.doNothing())
        .returning('record_id')
        .executeTakeFirst()
      if (!inserted) continue
      count++
      for (const version of earlier)
        await change
          .insertInto('record_versions')
          .values({
            record_id: recordId,
            content: JSON.stringify(version.content),
            archived_at: version.archivedAt ?? null,
            changed_at: version.changedAt,
          })
          .execute()
    }
    return count
  })
}

async function addLeftOut({ db, atOnce }: Store, { leftOut }: ArchiveContents): Promise<void> {
  for (const { photoId, slot, reason, createdAt, liftedAt } of leftOut) {
    const row = { photo_id: photoId, slot, reason, created_at: createdAt, lifted_at: liftedAt ?? null }
    const there = await db
      .selectFrom('left_out')
      .select('number')
      .where('photo_id', '=', photoId)
      .where('slot', '=', slot)
      .where('created_at', '=', createdAt)
      .executeTakeFirst()
    if (there) continue
    await atOnce(async ({ readings }, change) => {
      await change.insertInto('left_out').values(row).execute()
      for (const readingId of await readings.ofPhoto(photoId)) await readings.conclude(readingId)
    })
  }
}

/** After the records, to which the sheets belong; what is here already stays as it is. */
async function addSheets({ records, sheets: kept }: Store, { sheets = [], knownKeys = [] }: ArchiveContents) {
  for (const { settingId, createdAt, sheet } of sheets)
    if (!(await kept.get(sheet.sheetId)) && (await records.get('setting', settingId)))
      await kept.add(settingId, sheet, createdAt)
  const known = new Set((await kept.knownKeys()).map(({ publicKey }) => publicKey))
  for (const key of knownKeys) if (!known.has(key.publicKey)) await kept.name(key)
}
