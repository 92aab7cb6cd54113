import type { RecordKind } from '../records-client.js'

/** How one field of a record is typed and shown. */
export type FieldKind =
  'text' | 'long' | 'number' | 'date' | 'irradiance' | 'origin' | 'finding' | 'resin' | 'bottle' | 'printer'

export interface RecordField {
  readonly name: string
  readonly kind: FieldKind
  readonly required?: boolean
  readonly min?: number
  readonly max?: number
}

const name: RecordField = { name: 'name', kind: 'text', required: true }
const note: RecordField = { name: 'note', kind: 'long' }

/** The fields of each kind of record, in the order of its form; the schemas of the service say the same. */
export const recordFields = {
  resin: [
    name,
    { name: 'maker', kind: 'text' },
    { name: 'colour', kind: 'text' },
    { name: 'fromC', kind: 'number', min: 0, max: 80 },
    { name: 'toC', kind: 'number', min: 0, max: 80 },
    { name: 'viscosityMPaS', kind: 'number', min: 1, max: 100_000 },
    { name: 'viscosityAtC', kind: 'number', min: 0, max: 80 },
    { name: 'standMin', kind: 'number', min: 0, max: 10_000 },
    { name: 'washLiquid', kind: 'text' },
    { name: 'washFlashC', kind: 'number', min: -60, max: 200 },
    { name: 'washMaxMin', kind: 'number', min: 0, max: 1000 },
    { name: 'dryMin', kind: 'number', min: 0, max: 10_000 },
    { name: 'postCureMin', kind: 'number', min: 0, max: 1000 },
    { name: 'postCureLampW', kind: 'number', min: 0.1, max: 5000 },
    { name: 'postCureNm', kind: 'number', min: 300, max: 450 },
    { name: 'postCureJPerCm2', kind: 'number', min: 0.01, max: 10_000 },
    { name: 'postCureMaxC', kind: 'number', min: 20, max: 150 },
    { name: 'softensC', kind: 'number', min: 20, max: 300 },
    { name: 'refractiveIndex', kind: 'number', min: 1.2, max: 2 },
    note,
  ],
  report: [
    { name: 'part', kind: 'text', required: true },
    { name: 'finding', kind: 'finding', required: true },
    { name: 'date', kind: 'date', required: true },
    { name: 'bottleId', kind: 'bottle' },
    note,
  ],
  bottle: [
    name,
    { name: 'resinId', kind: 'resin' },
    { name: 'batch', kind: 'text' },
    { name: 'openedOn', kind: 'date' },
    { name: 'storedAt', kind: 'text' },
    { name: 'remainingMl', kind: 'number', min: 0, max: 100_000 },
    note,
  ],
  printer: [
    name,
    { name: 'pixelPitchUm', kind: 'number', required: true, min: 8, max: 120 },
    { name: 'timeStepS', kind: 'number', required: true, min: 0.01, max: 60 },
    { name: 'irradiance', kind: 'irradiance' },
    note,
  ],
  setting: [
    { name: 'exposureS', kind: 'number', required: true, min: 0.01, max: 999 },
    { name: 'layerHeightUm', kind: 'number', required: true, min: 10, max: 300 },
    { name: 'origin', kind: 'origin', required: true },
    { name: 'bottleId', kind: 'bottle' },
    { name: 'printerId', kind: 'printer' },
    { name: 'temperatureC', kind: 'number', min: -20, max: 100 },
    { name: 'ladderId', kind: 'text' },
    note,
  ],
} as const satisfies Record<RecordKind, readonly RecordField[]>
