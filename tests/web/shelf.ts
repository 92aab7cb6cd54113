import type { Setting } from '../../server/api/records.js'
import type { Service } from '../../server/service.js'
import { makeSheet } from '../../server/sheets/gather.js'

/** The photographs of a workshop: two of one ladder, one of another bottle, and so on. */
export type Photographed = 'demo' | 'soft' | 'foggy' | 'refused' | 'sanded' | `aged ${number}`

/** A photograph that is kept and read to its end. @returns its reading */
export async function readPhoto({ store, queue }: Service, path: string, name: string): Promise<string> {
  const received = await store.files.receiveFile(path)
  const { readingId } = await store.accept(received, { name, extension: 'jpg', simulated: true }, {})
  await store.files.discard(received)
  queue.wake()
  for await (const _ of queue.follow(readingId, new AbortController().signal));
  return readingId
}

const AGES_DAYS = [0, 1, 30, 182]
const DAY_MS = 86_400_000

/**
 * Puts on record what a workshop has after some weeks; all names are invented.
 *
 * @param read takes a photograph in and gives its reading
 * @returns the address of each page, after that of the service
 */
export async function fillShelf(
  service: Service,
  read: (what: Photographed) => Promise<string>,
): Promise<Record<string, string>> {
  const { store } = service
  const ladderOf = async (readingId: string) => (await store.readings.summary(readingId))!.outcome!.design!.ladderId

  const refused = await read('refused')
  const sanded = await read('sanded')
  await read('soft')
  const demo = await read('demo')
  const foggy = await read('foggy')
  const aged: string[] = []
  for (const days of AGES_DAYS) {
    const readingId = await read(`aged ${days}`)
    const created_at = new Date(Date.now() - (AGES_DAYS.at(-1)! - days) * DAY_MS).toISOString()
    await store.db.updateTable('readings').set({ created_at }).where('reading_id', '=', readingId).execute()
    aged.push(readingId)
  }

  const resin = await store.records.add('resin', {
    name: 'Clear trial resin',
    maker: 'Example maker',
    colour: 'clear',
    fromC: 20,
    toC: 30,
    postCureMin: 4,
  })
  const bottles = await Promise.all(
    ['Shelf 2, left', 'New in March'].map((name, i) =>
      store.records.add('bottle', {
        name,
        resinId: resin.recordId,
        batch: `B-041${i}`,
        openedOn: `2026-0${i + 2}-03`,
        storedAt: 'dark cupboard, 20 °C',
        remainingMl: 640 - 200 * i,
      }),
    ),
  )
  const [first, second] = [bottles[0]!.recordId, bottles[1]!.recordId]
  await store.records.add('report', { part: 'Lamp cover', finding: 'brittle', date: '2026-03-01', bottleId: first })
  const printer = await store.records.add('printer', {
    name: 'North bench',
    pixelPitchUm: 34,
    timeStepS: 0.1,
    irradiance: [{ date: '2026-02-10', mwPerCm2: 3.1, place: 'centre' }],
  })
  const design = { layerHeightUm: 50, pixelPitchUm: 34 }
  const facts = { bottleId: first, printerId: printer.recordId, temperatureC: 24, timeStepS: 0.1 }
  const planned = await store.ladders.plan({ ...design, exposuresS: [1.8, 2.1, 2.4, 2.8, 3.2, 3.7] }, facts)
  await store.ladders.plan(
    { ...design, layerHeightUm: 30, exposuresS: [1.2, 1.4, 1.6] },
    { ...facts, bottleId: second, steps: ['printed'] },
  )
  const setting = await store.records.add('setting', {
    exposureS: 2.3,
    intervalS: [2.2, 2.4],
    layerHeightUm: 50,
    origin: 'received',
    bottleId: first,
    printerId: printer.recordId,
    note: 'Handed over with the printer.',
  })
  const sheet = await makeSheet(service, setting.content as Setting, { madeBy: 'North workshop' }, '2026-02-12')
  await store.sheets.add(setting.recordId, sheet)
  const { path } = await store.sheets.addLink(sheet.sheetId, 30)
  for (const [readingId, bottleId] of [
    [demo, first],
    [foggy, second],
    [sanded, first],
    [aged[0]!, first],
  ] as const)
    await store.ladders.change(await ladderOf(readingId), { facts: { ...facts, bottleId } })

  const demoLadder = await ladderOf(demo)
  return {
    start: '/#/',
    ladders: '/#/ladders',
    'new-ladder': '/#/print',
    ladder: `/#/ladder/${planned.design.ladderId}`,
    'ladder-answer': `/#/ladder/${demoLadder}`,
    'two-photos': `/#/pair/${demoLadder}`,
    reading: `/#/reading/${demo}`,
    'reading-refused': `/#/reading/${refused}`,
    'process-reading': `/#/reading/${sanded}`,
    'process-ladder': `/#/ladder/${await ladderOf(sanded)}`,
    ageing: `/#/ladder/${await ladderOf(aged[0]!)}`,
    plan: '/#/plan',
    'plan-first-ladder': '/#/plan/first-ladder',
    'plan-layer-height': `/#/plan/layer-height?reading=${demo}`,
    'plan-working-curve': '/#/plan/working-curve',
    'plan-lamp': '/#/plan/lamp',
    compare: '/#/compare',
    bottles: '/#/records/bottle',
    resins: '/#/records/resin',
    printers: '/#/records/printer',
    settings: '/#/records/setting',
    reports: '/#/records/report',
    'hand-on': `/#/setting/${setting.recordId}`,
    'take-in': '/#/take-in',
    finish: '/#/finish',
    'finish-route': '/#/finish/route',
    'finish-prepare': '/#/finish/prepare',
    'finish-post-cure': '/#/finish/post-cure',
    'finish-smooth': '/#/finish/smooth',
    more: '/#/more',
    phone: '/#/phone',
    data: '/#/data',
    help: '/#/help',
    'shared-sheet': path,
  }
}
