import type { WindowRecord } from './records.js'
import { bias, coverage, rms, scatter, share } from './statistics.js'
import { percent, signed, table } from './table.js'

const GROUPS: readonly WindowRecord['group'][] = [
  ...(['single', 'layer lines', 'alike', 'low panel'] as const),
  ...(['whole, honest', 'whole, finished'] as const),
]
type Quantity = 'haze' | 'deltaB'
type ReadWindow = WindowRecord & Required<Pick<WindowRecord, Quantity>>
const isRead = (record: WindowRecord): record is ReadWindow => record.haze !== undefined && record.deltaB !== undefined
const judged = (windows: readonly ReadWindow[], quantity: Quantity) => windows.map((window) => window[quantity])
/** Points of haze: hundredths of the index. */
const points = (index: number) => (100 * index).toFixed(1)

/** Haze index and delta b* of every window against its truth, a row a group. */
export function windowTable(windows: readonly WindowRecord[]): string {
  return table(
    [
      ...['windows', 'read', 'haze: bias and rms, points', 'within 3 points', 'inside 95 %'],
      ...['stated u, points', 'delta b*: bias and rms', 'within 0.7', 'inside 95 %'],
    ],
    GROUPS.map((group) => {
      const all = windows.filter((window) => window.group === group)
      const read = all.filter(isRead)
      const haze = read.map(({ haze: { error } }) => error)
      const colour = read.map(({ deltaB: { error } }) => error)
      return [
        group,
        `${read.length} of ${all.length}`,
        `${signed(100 * bias(haze))}, ${points(rms(haze))}`,
        percent(share(haze.map((error) => Math.abs(error) <= 0.03))),
        percent(coverage(judged(read, 'haze'))),
        points(rms(read.map(({ haze: { uncertainty } }) => uncertainty))),
        `${signed(bias(colour))}, ${rms(colour).toFixed(2)}`,
        percent(share(colour.map((error) => Math.abs(error) <= 0.7))),
        percent(coverage(judged(read, 'deltaB'))),
      ]
    }),
  )
}

/** Goals of haze and yellowness: what, limit, found, held out (none), met. */
export function windowGoals(windows: readonly WindowRecord[]): readonly (readonly string[])[] {
  const read = windows.filter(isRead)
  const single = read.filter(({ group }) => group === 'single' || group === 'layer lines')
  const errors = single.map(({ haze: { error } }) => error)
  const worst = Math.max(...errors.map(Math.abs))
  const near = errors.filter((error) => Math.abs(error) <= 0.03).length
  const covered = coverage(judged(single, 'haze'))
  const treated = spread(read.filter(({ group }) => group === 'alike'))
  const finished = spread(read.filter(({ group }) => group.startsWith('whole')))
  const colour = [...single, ...read.filter(({ group }) => group === 'alike')].map(({ deltaB: { error } }) =>
    Math.abs(error),
  )
  const row = (what: string, limit: string, found: string, met: boolean) => [
    what,
    limit,
    found,
    '',
    met ? 'yes' : '**no**',
  ]
  return [
    row(
      'haze index against the share scattered beyond 2.5 degrees, single windows',
      'at most 3 points',
      `up to ${points(worst)} points (${near} of ${errors.length} within 3)`,
      worst <= 0.03,
    ),
    row('95 % interval of haze, single windows', 'at least 90 %', percent(covered), covered >= 0.9),
    row(
      'haze of one window in one light, sd over what an honest camera made of the frame',
      'at most 0.7 points',
      `${points(treated)} points`,
      treated <= 0.007,
    ),
    row(
      'haze of one coupon, sd over honest and finished pictures of a frame',
      'at most 2 points',
      `${points(finished)} points`,
      finished <= 0.02,
    ),
    row(
      'delta b* of single windows, pairs and five tints',
      'within 0.7',
      `up to ${Math.max(...colour).toFixed(2)}`,
      colour.every((error) => error <= 0.7),
    ),
  ]
}

/** Standard deviation of haze over the pictures of one frame, pooled over its windows. */
function spread(windows: readonly ReadWindow[]): number {
  const frames = new Map<string, number[]>()
  for (const { scene, slot, haze } of windows) {
    const frame = `${scene.replace(/-(soft|grain|phone)$/, '')} ${slot}`
    frames.set(frame, [...(frames.get(frame) ?? []), haze.error])
  }
  return rms([...frames.values()].filter(({ length }) => length > 1).map(scatter))
}
