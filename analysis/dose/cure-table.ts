import Papa from 'papaparse'
import { refuse, type Outcome } from '../outcome.js'
import type { CurePoint } from './cure-point.js'

/** Points read from pasted text, and the lines that gave none. */
export interface CureTable {
  readonly points: readonly CurePoint[]
  /** Line of the text, from 1, of each point. */
  readonly lines: readonly number[]
  readonly skipped: readonly SkippedLine[]
  /** What the columns were taken for. */
  readonly columns: string
  /** The same, for programs. */
  readonly columnsHold: { readonly doses: 'doses' | 'times'; readonly depths: 'um' | 'mm' }
}

/** A line that gave no point, and why. */
export interface SkippedLine {
  readonly line: number
  readonly why: keyof typeof SKIPPED
  readonly inWords: string
}

const SKIPPED = {
  commas: 'commas part the cells and the decimals: use semicolons or tabs',
  'no-numbers': 'no two numbers',
  'not-positive': 'dose and depth must be above 0',
} as const

interface Columns {
  readonly dose: number
  readonly depth: number
  readonly depthFactor: number
  readonly isTime: boolean
}

const NUMBER = /^[+-]?\d+([.,]\d+)?(e[+-]?\d+)?$/i

/**
 * Doses and cure depths from text pasted out of a spreadsheet.
 *
 * Cells are parted by tabs, semicolons, commas or spaces, in this order of preference, so that a comma may be the decimal
 * sign unless it parts the cells. A header names the columns: one with `time` or `(s)` holds exposure times, which need
 * the irradiance; one with `mm` holds millimetres. Without a header the first two columns are mJ/cm2 and um.
 *
 * @param irradianceMwPerCm2 turns times into doses
 * @returns the points, or a refusal: `no-numbers`, `irradiance-needed` when the column holds times
 */
export function readCureTable(
  text: string,
  { irradianceMwPerCm2 }: { readonly irradianceMwPerCm2?: number | undefined } = {},
): Outcome<CureTable> {
  const delimiter = delimiterOf(text)
  const tidy = delimiter === ' ' ? text.replace(/[^\S\n]+/g, ' ').replace(/^ | $/gm, '') : text
  const rows = Papa.parse<string[]>(tidy, { delimiter }).data.map((cells) => cells.map((cell) => cell.trim()))
  const firstNumbers = rows.findIndex((cells) => cells.filter((cell) => NUMBER.test(cell)).length > 1)
  const header = rows.slice(0, Math.max(0, firstNumbers)).findLast((cells) => cells.some((cell) => cell !== ''))
  const columns = columnsOf(header)
  if (columns.isTime && irradianceMwPerCm2 === undefined) {
    return refuse(
      'irradiance-needed',
      'Give the irradiance in mW/cm2, or paste doses in mJ/cm2.',
      'a column holds times',
    )
  }
  const points: CurePoint[] = []
  const lines: number[] = []
  const skipped: SkippedLine[] = []
  const skip = (line: number, why: SkippedLine['why']) => skipped.push({ line, why, inWords: SKIPPED[why] })
  rows.forEach((cells, i) => {
    if (cells === header || cells.every((cell) => cell === '')) return
    const line = i + 1
    if (delimiter === ',' && cells.filter((cell) => cell !== '').length > (header ?? ['', '']).length) {
      skip(line, 'commas')
      return
    }
    const [dose, depth] = [numberOf(cells[columns.dose]), numberOf(cells[columns.depth])]
    if (dose === undefined || depth === undefined) skip(line, 'no-numbers')
    else if (dose <= 0 || depth <= 0) skip(line, 'not-positive')
    else {
      const doseMjPerCm2 = columns.isTime ? dose * irradianceMwPerCm2! : dose
      points.push({ doseMjPerCm2, depthUm: depth * columns.depthFactor })
      lines.push(line)
    }
  })
  if (points.length === 0) {
    return refuse('no-numbers', 'Paste two columns: dose in mJ/cm2, cure depth in um.', `${rows.length} lines read`)
  }
  const first = columns.isTime ? `times in s at ${irradianceMwPerCm2} mW/cm2` : 'doses in mJ/cm2'
  const depths = columns.depthFactor === 1 ? 'um' : 'mm'
  return {
    ok: true,
    value: {
      ...{ points, lines, skipped, columns: `${first}, depths in ${depths}` },
      columnsHold: { doses: columns.isTime ? 'times' : 'doses', depths },
    },
  }
}

function delimiterOf(text: string): string {
  if (text.includes('\t')) return '\t'
  if (text.includes(';')) return ';'
  // Two numbers with a space between, a comma inside each at most being their decimal sign.
  const spaced = text.split('\n').filter((line) => /^\s*\d+([.,]\d+)?\s+\d+([.,]\d+)?\s*$/.test(line)).length
  return spaced > 0 ? ' ' : ','
}

function columnsOf(header: readonly string[] | undefined): Columns {
  const none = { dose: 0, depth: 1, depthFactor: 1, isTime: false }
  if (!header) return none
  const find = (pattern: RegExp) => header.findIndex((name) => pattern.test(name))
  const depth = find(/depth|thick|\bcd\b|µm|\bum\b|\bmm\b/i)
  const time = find(/time|exposure|\(s\)|\bs\b|sec/i)
  const energy = find(/dose|energy|mj/i)
  const dose = energy >= 0 ? energy : time
  if (depth < 0 || dose < 0 || depth === dose) return none
  return { dose, depth, depthFactor: /\bmm\b/i.test(header[depth]!) ? 1000 : 1, isTime: energy < 0 }
}

function numberOf(cell: string | undefined): number | undefined {
  return cell !== undefined && NUMBER.test(cell) ? Number(cell.replace(',', '.')) : undefined
}
