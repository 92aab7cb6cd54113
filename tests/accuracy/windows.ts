import type { WindowRecord } from './records.js'
import { bias, coverage, rms, scatter, share } from './statistics.js'
import { percent, signed, table } from './table.js'

const GROUPS: readonly WindowRecord['group'][] = [
  ...(['single', 'layer lines', 'alike'] as const),
  ...(['whole, honest', 'whole, finished', 'other frames', 'low panel'] as const),
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
  const framed = read
    .filter(({ group }) => group === 'whole, honest' || group === 'other frames' || group === 'low panel')
    .map(({ haze: { error } }) => error)
  const framedNear = share(framed.map((error) => Math.abs(error) <= 0.03))
  const covered = coverage(judged(single, 'haze'))
  const treated = spread(read.filter(({ group }) => group === 'alike'))
  const finished = spread(read.filter(({ group }) => group.startsWith('whole')))
  const colour = [...single, ...read.filter(({ group }) => group === 'alike')].map(({ deltaB: { error } }) =>
    Math.abs(error),
  )
  const traced = read.filter(({ scene }) => /^pair-[a-z]+(-again|-third)?$/.test(scene))
  const lights = overLights(traced)
  const row = (what: string, limit: string, found: string, met: boolean) => [
    what,
    limit,
    found,
    '',
    met ? 'yes' : '**no**',
  ]
  const ordering = (how: string, right: readonly boolean[]) =>
    row(
      `order of two bottles 1.5 points apart, ${how}`,
      'right in 95 %',
      `${percent(share(right))} of ${right.length}`,
      share(right) >= 0.95,
    )
  return [
    row(
      'haze index against the share scattered beyond 2.5 degrees, single windows',
      'at most 3 points',
      `up to ${points(worst)} points (${near} of ${errors.length} within 3)`,
      worst <= 0.03,
    ),
    row(
      'haze index against that share, coupons of whole frames that no camera finished',
      'within 3 points in 90 %',
      `${percent(framedNear)} of ${framed.length}, up to ${points(Math.max(...framed.map(Math.abs)))}`,
      framedNear >= 0.9,
    ),
    row('95 % interval of haze, single windows', 'at least 90 %', percent(covered), covered >= 0.9),
    row(
      'haze of one window in one light, sd over what an honest camera made of the frame',
      'at most 0.7 points',
      `${points(treated)} points`,
      treated <= 0.007,
    ),
    row(
      'haze of one window, sd over lights of the means of its tracings',
      'at most 0.7 points',
      `${points(lights)} points`,
      lights <= 0.007,
    ),
    ordering('in one light, one tracing of each', ordered(traced, isSame)),
    ordering('in different lights, one tracing of each', ordered(traced, isOther)),
    ordering(
      'in different lights, means of two or three tracings (half the noise)',
      ordered(meanTracings(traced), isOther),
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

function grouped<T>(all: readonly T[], keyOf: (one: T) => string | number): readonly (readonly T[])[] {
  const groups = new Map<string | number, T[]>()
  for (const one of all) groups.set(keyOf(one), [...(groups.get(keyOf(one)) ?? []), one])
  return [...groups.values()]
}

/** Standard deviation of haze over the pictures of one frame, pooled over its windows. */
function spread(windows: readonly ReadWindow[]): number {
  const frames = grouped(windows, ({ scene, slot }) => `${scene.replace(/-(soft|grain|phone)$/, '')} ${slot}`)
  return rms(
    frames.filter(({ length }) => length > 1).map((frame) => scatter(frame.map(({ haze: { error } }) => error))),
  )
}

const isSame = (a: string, b: string) => a === b
const isOther = (a: string, b: string) => a !== b
const lightOf = ({ scene }: ReadWindow) => scene.replace(/-(again|third)$/, '')

/** Standard deviation over lights of the mean over tracings, pooled over the slots. */
function overLights(traced: readonly ReadWindow[]): number {
  const slots = grouped(traced, ({ slot }) => slot)
  return rms(
    slots.map((windows) =>
      scatter(grouped(windows, lightOf).map((group) => bias(group.map(({ haze: { error } }) => error)))),
    ),
  )
}

/** Tracings of one window in one light as one. */
const meanTracings = (traced: readonly ReadWindow[]): ReadWindow[] =>
  grouped(traced, (window) => `${lightOf(window)} ${window.slot}`).map((same) => {
    const error = bias(same.map(({ haze }) => haze.error))
    return { ...same[0]!, haze: { ...same[0]!.haze, error } }
  })

/** Whether each pair of readings of the clearer and the hazier bottle is in its true order, lights as wanted. */
function ordered(traced: readonly ReadWindow[], wanted: (a: string, b: string) => boolean): boolean[] {
  const value = ({ haze: { truth, error } }: ReadWindow) => truth + error
  return traced.flatMap((clearer) =>
    traced
      .filter((hazier) => hazier.haze.truth > clearer.haze.truth && wanted(lightOf(clearer), lightOf(hazier)))
      .map((hazier) => value(hazier) > value(clearer)),
  )
}
