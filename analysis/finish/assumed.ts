/** How a value that nobody gave is known. */
export type Basis =
  /** Chosen because something had to be. */
  | 'guess'
  /** Recalled, not read again. */
  | 'memory'
  /** Usual in the trade, no source. */
  | 'practice'
  /** Read in the publication named. */
  | 'published'

interface AssumedValue {
  /** Number, or lowest and highest. */
  readonly value: number | readonly [number, number]
  readonly unit: string
  readonly basis: Basis
  readonly source: string
}

/** Every value that the models of finishing take unless it is given, with what it rests on. */
export const ASSUMED = {
  penetrationMm: {
    value: 1.5,
    unit: 'mm',
    basis: 'guess',
    source: 'depth after which 1/e of curing light is left in cured clear resin; differs from resin to resin',
  },
  exothermJPerCm3: {
    value: 70,
    unit: 'J/cm³',
    basis: 'memory',
    source: '80 kJ/mol x 5 mol/kg x 15 % still to convert x 1.15 kg/l',
  },
  exothermDoseJPerCm2: {
    value: 2,
    unit: 'J/cm²',
    basis: 'guess',
    source: 'dose after which 1/e of that heat is still to come',
  },
  conductivityWPerMK: { value: 0.2, unit: 'W/mK', basis: 'memory', source: 'usual for the polymer' },
  heatCapacityMJPerM3K: { value: 2.12, unit: 'MJ/m³K', basis: 'memory', source: 'usual for the polymer' },
  stillAirWPerM2K: {
    value: 10,
    unit: 'W/m²K',
    basis: 'guess',
    source: 'within 2 to 25 of free gas (Cengel, Heat and Mass Transfer, typical values)',
  },
  fanWPerM2K: {
    value: 40,
    unit: 'W/m²K',
    basis: 'guess',
    source: 'within 25 to 250 of forced gas (Cengel, same table)',
  },
  waterWPerM2K: {
    value: 300,
    unit: 'W/m²K',
    basis: 'guess',
    source: 'within 50 to 1000 of free liquid (Cengel, same table; upper end Incropera, from memory)',
  },
  limitC: { value: 60, unit: '°C', basis: 'practice', source: 'common practice, no source' },
  lightShare: { value: 0.3, unit: '', basis: 'guess', source: 'light out of electric power of a lamp of diodes' },
  litCm2: { value: 600, unit: 'cm²', basis: 'guess', source: 'area that the light of a curing box spreads over' },
  index: {
    value: 1.52,
    unit: '',
    basis: 'published',
    source: 'cured printing resins 1.505 to 1.533: Opt. Mater. Express 11 (2021) 3392',
  },
  scratchShare: {
    value: [0.01, 0.03],
    unit: '',
    basis: 'memory',
    source: 'root mean square of the scratches over the grain; order of magnitude',
  },
  markShare: { value: [0.5, 1], unit: '', basis: 'memory', source: 'depth of the marks of a grain over its size' },
  flowKJPerMol: {
    value: [30, 60],
    unit: 'kJ/mol',
    basis: 'memory',
    source: 'flow activation of blends of acrylate oligomers',
  },
  viscosityAtC: { value: 25, unit: '°C', basis: 'practice', source: 'where data sheets state viscosity; no source' },
  densityKgPerM3: { value: 1100, unit: 'kg/m³', basis: 'memory', source: 'liquid acrylate resin' },
  bubbleUm: { value: 300, unit: 'µm', basis: 'guess', source: 'smallest bubble that must have left' },
} as const satisfies Readonly<Record<string, AssumedValue>>
export type AssumedName = keyof typeof ASSUMED

/** A value that an answer took because nobody gave it. */
export interface Assumed {
  readonly what: AssumedName
  readonly value: number
  /** Highest, where `value` is the lowest of a range. */
  readonly to?: number
  readonly unit: string
  readonly basis: Basis
}

/** As an answer tells them, in the order asked for. */
export const assumed = (...names: readonly AssumedName[]): Assumed[] =>
  names.map((what) => {
    const { value, unit, basis }: AssumedValue = ASSUMED[what]
    return typeof value === 'number'
      ? { what, value, unit, basis }
      : { what, value: value[0], to: value[1], unit, basis }
  })
