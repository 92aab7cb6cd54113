import type { Bottle, Printer, Resin, Setting } from '../api/records.js'
import type { SettingSheet, SheetRequest } from '../api/sheets.js'
import type { Service } from '../service.js'
import { composeSheet, type SheetSource } from './compose-sheet.js'

const PICTURE_WIDTH_PX = 640
/** Base64 of more than this would make the sheet too large. */
const MOST_PICTURE_BYTES = 110_000

/** Gathers what a sheet of a setting is made of, and makes it. */
export async function makeSheet(
  { store, pictures }: Pick<Service, 'store' | 'pictures'>,
  setting: Setting,
  { madeBy, note, photo = true }: SheetRequest,
  madeOn: string,
): Promise<SettingSheet> {
  const bottle = await content<Bottle>(store, 'bottle', setting.bottleId)
  const source: SheetSource = {
    setting,
    bottle,
    resin: await content<Resin>(store, 'resin', bottle?.resinId),
    printer: await content<Printer>(store, 'printer', setting.printerId),
    ...(await measured({ store, pictures }, setting.readingId, photo)),
    madeBy,
    note,
    madeOn,
  }
  return composeSheet(source)
}

async function content<T>(
  store: Service['store'],
  kind: 'bottle' | 'resin' | 'printer',
  recordId: string | undefined,
): Promise<T | undefined> {
  const record = recordId === undefined ? undefined : await store.records.get(kind, recordId)
  return record?.content as T | undefined
}

async function measured(
  { store, pictures }: Pick<Service, 'store' | 'pictures'>,
  readingId: string | undefined,
  withPicture: boolean,
): Promise<Pick<SheetSource, 'reading' | 'photoJpeg'>> {
  if (readingId === undefined) return {}
  const [kept, reading] = [await store.readings.summary(readingId), await store.readings.concluded(readingId)]
  if (!kept || !reading || 'refusal' in reading) return {}
  if (!withPicture) return { reading }
  const photoJpeg = await store
    .usePhoto(kept.photoId, (path) => pictures.jpeg(path, kept.photoId, PICTURE_WIDTH_PX, reading))
    .catch(() => undefined)
  return photoJpeg && photoJpeg.length <= MOST_PICTURE_BYTES ? { reading, photoJpeg } : { reading }
}
