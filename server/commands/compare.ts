import { basename } from 'node:path'
import { Value } from 'typebox/value'
import { compareReadings, CompareOptions, CouponLabels, type LabelledReading } from '../../analysis/index.js'
import { comparisonReport } from '../report/comparison-report.js'
import { UsageError } from '../usage-error.js'
import { readReading, tell } from './reading-file.js'

export interface CompareFlags {
  readonly by: CompareOptions['by']
  readonly of: NonNullable<CompareOptions['of']>
  readonly label: readonly string[]
  readonly exposureS?: number
  readonly difference?: number
  readonly power?: number
  readonly json?: boolean
}

interface Label {
  readonly file: string
  readonly slot: number | undefined
  readonly labels: CouponLabels
  readonly date: string | undefined
}

const USAGE = 'give labels as FILE:bottle=A,date=2026-02-01 or FILE#SLOT:finish=coated'
const DATE = /^\d{4}-\d{2}-\d{2}([T ].*)?$/

/** `file[#slot]:name=value,...` */
function parseLabel(text: string): Label {
  const [, file, slot, pairs] = /^(.+?)(?:#(\d+))?:([^:]*=.*)$/.exec(text) ?? []
  if (file === undefined || pairs === undefined) throw new UsageError(`--label ${text}: ${USAGE}`)
  const given = Object.fromEntries(
    pairs.split(',').map((pair) => {
      const [name = '', ...value] = pair.split('=')
      return [name.trim() === 'post-cure' ? 'postCure' : name.trim(), value.join('=').trim()]
    }),
  )
  const { date, ...labels } = given
  if (date !== undefined && !DATE.test(date)) throw new UsageError(`--label ${text}: give the date as 2026-02-01`)
  if (!Value.Check(CouponLabels, labels)) {
    throw new UsageError(`--label ${text}: names are bottle, batch, printer, post-cure, finish and date; ${USAGE}`)
  }
  return { file, slot: slot === undefined ? undefined : Number(slot), labels, date }
}

/** Compares readings that `measure --json` wrote. @returns the exit code */
export async function compare(paths: readonly string[], flags: CompareFlags): Promise<number> {
  const labels = flags.label.map(parseLabel)
  for (const { file } of labels) {
    if (!paths.some((path) => isOf(path, file)))
      throw new UsageError(`--label ${file}: no reading of that name is given`)
  }
  const { by, of, exposureS, difference, power, json } = flags
  const options = {
    by,
    of,
    ...(exposureS !== undefined && { exposureS }),
    ...(difference !== undefined && { wantedDifference: difference }),
    ...(power !== undefined && { power }),
  }
  const [error] = Value.Errors(CompareOptions, options)
  if (error) throw new UsageError(`${error.instancePath.slice(1)} ${error.message}`)
  const readings = await Promise.all(
    paths.map(async (path): Promise<LabelledReading> => {
      const mine = labels.filter(({ file }) => isOf(path, file))
      const date = mine.find((one) => one.date !== undefined)?.date
      return {
        reading: await readReading(path),
        photo: path,
        labels: Object.assign({}, ...mine.map((one) => (one.slot === undefined ? one.labels : {}))) as CouponLabels,
        slotLabels: Object.fromEntries(mine.flatMap((one) => (one.slot === undefined ? [] : [[one.slot, one.labels]]))),
        ...(date !== undefined && { date }),
      }
    }),
  )
  return tell(compareReadings(readings, options), json, comparisonReport)
}

const isOf = (path: string, file: string) => path === file || basename(path) === file
