import Papa from 'papaparse'
import type { Rung } from '../../analysis/index.js'
import type { Store } from '../storage/store.js'

/** Readings looked up at once. */
const PAGE = 100

const columns = [
  ...['reading', 'photo', 'simulated', 'read_at', 'ladder', 'layer_height_um', 'pixel_pitch_um'],
  ...[
    'bottle',
    'batch',
    'printer',
    'slot',
    'exposure_s',
    'factor',
    'level',
    'growth_um',
    'growth_u_um',
    'growth_within_photo_u_um',
  ],
  ...['print_through_um', 'print_through_u_um', 'smallest_line_um', 'smallest_space_um'],
  ...['haze_index', 'haze_index_u', 'yellowness_per_mm', 'yellowness_per_mm_u', 'refusal', 'left_out'],
]

function valuesOf(rung: Rung) {
  if ('refusal' in rung) return { refusal: rung.refusal.code }
  return {
    growth_um: rung.growthUm.value,
    growth_u_um: rung.growthUm.standardUncertainty,
    growth_within_photo_u_um: rung.growthUm.withinPhotoUncertainty,
    print_through_um: rung.printThroughUm?.value,
    print_through_u_um: rung.printThroughUm?.standardUncertainty,
    smallest_line_um: rung.smallestLineUm,
    smallest_space_um: rung.smallestSpaceUm,
    haze_index: rung.haze?.value,
    haze_index_u: rung.haze?.standardUncertainty,
    yellowness_per_mm: rung.yellownessPerMm?.value,
    yellowness_per_mm_u: rung.yellownessPerMm?.standardUncertainty,
  }
}

async function rowsOf(store: Store, readingId: string): Promise<object[]> {
  const reading = await store.readings.get(readingId)
  if (!reading?.result || 'refusal' in reading.result) return []
  const { design, rungs } = reading.result
  const { bottle, batch, printer } = await store.ladders.labelsOf(design.ladderId)
  return rungs.map((rung) => ({
    reading: readingId,
    photo: reading.photoName,
    simulated: reading.simulated,
    read_at: reading.finishedAt,
    ladder: design.ladderId,
    layer_height_um: design.layerHeightUm,
    pixel_pitch_um: design.pixelPitchUm,
    bottle,
    batch,
    printer,
    slot: rung.slot,
    exposure_s: rung.exposureS,
    factor: design.factor,
    level: design.levels?.[rung.slot - 1],
    ...valuesOf(rung),
    left_out: reading.leftOut.find(({ slot }) => slot === rung.slot)?.reason,
  }))
}

/** A line for each coupon of each reading, newest reading first; `_u` is the standard uncertainty (k = 1). */
export async function* readingsCsv(store: Store): AsyncGenerator<string> {
  yield `${columns.join(',')}\r\n`
  for (let offset = 0; ; offset += PAGE) {
    const { readings, total } = await store.readings.list({ limit: PAGE, offset })
    for (const { readingId } of readings) {
      const rows = await rowsOf(store, readingId)
      // Names come from people: what a spreadsheet would run as a formula is made text.
      if (rows.length > 0) yield `${Papa.unparse(rows, { columns, header: false, escapeFormulae: true })}\r\n`
    }
    if (offset + PAGE >= total) return
  }
}
