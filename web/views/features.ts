import type { GapReading, GratingReading, IsolatedReading, PointPx, ReadRung } from '../../server/api/readings.js'
import { formatShort } from '../format.js'
import { texts } from '../texts/page.js'
import { inInches, inMil } from '../units.js'

/** One thing measured on a coupon. */
export type Feature = {
  readonly key: string
  readonly title: string
  /** Title for a list whose heading says what it lists. */
  readonly short: string
  /** Whether it survived, where that is asked of it. */
  readonly state?: string
  /** False: not read or did not survive. */
  readonly good: boolean
  readonly outlinePx: readonly PointPx[]
} & (
  | { readonly kind: 'grating'; readonly grating: GratingReading }
  | { readonly kind: 'gap'; readonly gap: GapReading }
  | { readonly kind: 'line' | 'space' }
  | { readonly kind: 'window' }
)

const words = texts.feature
const { states } = words
const millimetres = (um: number) => formatShort(um / 1000)

function fromGrating(grating: GratingReading): Feature {
  const { group: key, outlinePx } = grating
  const short = formatShort(grating.pitchMm)
  return {
    kind: 'grating',
    key,
    title: `${words.grating(short)}${inInches(grating.pitchMm)}`,
    short,
    good: true,
    outlinePx,
    grating,
  }
}

function fromGap(gap: GapReading): Feature {
  const { id: key, outlinePx, state } = gap
  const short = millimetres(gap.nominalUm)
  return {
    kind: 'gap',
    key,
    title: `${words.gap(short)}${inMil(gap.nominalUm)}`,
    short,
    state: states[state],
    good: state === 'open',
    outlinePx,
    gap,
  }
}

function fromIsolated({ id: key, kind, nominalUm, outlinePx, survives: good }: IsolatedReading): Feature {
  const short = millimetres(nominalUm)
  const state = kind === 'line' ? (good ? states.stands : states.gone) : good ? states.open : states.closed
  return { kind, key, title: `${words[kind](short)}${inMil(nominalUm)}`, short, state, good, outlinePx }
}

/** Everything measured on a coupon, small before large. */
export function featuresOf({ gratings, gaps, isolated, haze, windowOutlinePx }: ReadRung): Feature[] {
  const bySize = (a: { nominalUm: number }, b: { nominalUm: number }) => a.nominalUm - b.nominalUm
  const window: Feature = {
    kind: 'window',
    key: 'window',
    title: words.window,
    short: texts.photo.windowChip,
    good: haze !== undefined,
    outlinePx: windowOutlinePx,
  }
  return [
    ...gratings.map(fromGrating),
    ...gaps.toSorted(bySize).map(fromGap),
    ...isolated.toSorted(bySize).map(fromIsolated),
    ...(windowOutlinePx.length > 0 ? [window] : []),
  ]
}
