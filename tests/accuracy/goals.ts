import { DRAWS, type Group } from './cases.js'
import type { Judged, PhotoRecord, WindowRecord } from './records.js'
import * as of from './statistics.js'
import { percent, signed, table, um } from './table.js'
import { windowGoals } from './windows.js'

interface Goal {
  readonly what: string
  readonly limit: string
  readonly found: string
  readonly met: boolean
}

const MOST_BIAS_UM = { plain: 0.3, tone: 0.5, sharpened: 2 } as const
const LARGE = 4

/** Every goal beside what was found, met or not: on the photographs that limits were chosen on, and on those held out. */
export function goalTable(photos: readonly PhotoRecord[], windows: readonly WindowRecord[]): string {
  const group = (name: PhotoRecord['group']) => photos.filter((photo) => photo.group === name)
  const [chosen = [], heldOut = []] = DRAWS.map((draw) =>
    drawnGoals(photos.filter((photo) => photo.draw === draw && photo.group !== 'repeats')),
  )
  const rows = [
    ...scatterGoals(group('repeats')).map((goal) => [goal]),
    ...chosen.map((goal, i) => [goal, heldOut[i]!]),
    ...tracedGoals(group('path-traced')).map((goal) => [goal]),
  ]
  return table(
    ['goal', 'limit', 'found', 'found, held out', 'met'],
    [
      ...rows.map((goals) => {
        const [{ what, limit, found }, proof] = goals as [Goal, Goal?]
        return [what, limit, found, proof?.found ?? '', goals.every(({ met }) => met) ? 'yes' : '**no**']
      }),
      ...windowGoals(windows),
    ],
  )
}

function drawnGoals(drawn: readonly PhotoRecord[]): Goal[] {
  const group = (name: PhotoRecord['group']) => drawn.filter((photo) => photo.group === name)
  return [
    ...(['plain', 'tone', 'sharpened'] as const).map((name) => biasGoal(name, group(name))),
    ...smoothedGoals(group('smoothed')),
    falseWarningGoal(drawn.filter((photo) => photo.group !== 'smoothed')),
    ...(['plain', 'tone', 'sharpened'] as const).map((name) => differenceGoal(name, group(name))),
    coverageGoal('95 % interval of growth, drawn, terms shown', judged(drawn, 'shownUm')),
    coverageGoal('95 % interval of differences, drawn, terms shown', of.differences(drawn, 'shownWithinUm')),
    farOffGoal(drawn),
  ]
}

const judged = (photos: readonly PhotoRecord[], which: 'absoluteUm' | 'shownUm') =>
  of.couponsOf(photos).map(of.growth(which))

function scatterGoals(repeats: readonly PhotoRecord[]): Goal[] {
  const ofPhotos = repeats.map((photo) => photo.means ?? [])
  return [...new Set(ofPhotos.flat().map(({ pitchMm }) => pitchMm))].flatMap((pitchMm) => {
    const own = ofPhotos.map((means) => means.filter((grating) => grating.pitchMm === pitchMm))
    const goal = (what: string, { sdUm, boundUm }: ReturnType<typeof of.overBound>): Goal => ({
      what: `sd of a grating's mean line width against its Cramer-Rao bound, ${what}, pitch ${pitchMm.toFixed(2)} mm, plain, quality 90, ${own.flat().length} readings`,
      limit: 'at most 2 times',
      found: `${(sdUm / boundUm).toFixed(2)} times (${sdUm.toFixed(3)} over ${boundUm.toFixed(3)} um)`,
      met: sdUm <= 2 * boundUm,
    })
    return [
      goal('gratings of one photograph', of.withinOverBound(own)),
      goal("with what a photograph's gratings share", of.overBound(own.flat())),
    ]
  })
}

function biasGoal(group: keyof typeof MOST_BIAS_UM, photos: readonly PhotoRecord[]): Goal {
  const widthUm = 2 * of.bias(of.couponsOf(photos).map(({ growthErrorUm }) => growthErrorUm))
  const limit = MOST_BIAS_UM[group]
  return {
    what: `bias of a line's width, ${group}`,
    limit: `within ${limit} um`,
    found: `${signed(widthUm)} um`,
    met: Math.abs(widthUm) <= limit,
  }
}

function smoothedGoals(photos: readonly PhotoRecord[]): Goal[] {
  const flagged = of.share(photos.map(({ warnings }) => warnings.includes('smoothed')))
  const covered = of.coverage(judged(photos, 'shownUm'))
  return [
    { what: 'smoothed photographs warned of', limit: 'at least 95 %', found: percent(flagged), met: flagged >= 0.95 },
    {
      what: '95 % interval of growth, smoothed, terms shown',
      limit: 'at least 90 %',
      found: percent(covered),
      met: covered >= 0.9,
    },
  ]
}

function falseWarningGoal(unsmoothed: readonly PhotoRecord[]): Goal {
  const warned = unsmoothed.filter(({ warnings }) => warnings.includes('smoothed')).map(({ name }) => name)
  return {
    what: 'photographs that nothing smoothed warned of as smoothed',
    limit: 'none',
    found: warned.length > 0 ? warned.join(', ') : `none of ${unsmoothed.length}`,
    met: warned.length === 0,
  }
}

function differenceGoal(group: Group, photos: readonly PhotoRecord[]): Goal {
  const widthUm = 2 * of.rms(of.differences(photos, 'shownWithinUm').map(({ error }) => error))
  return {
    what: `difference of a line's width between two coupons of a photograph, ${group}, rms`,
    limit: 'at most 1 um',
    found: `${um(widthUm)} um`,
    met: widthUm <= 1,
  }
}

function coverageGoal(what: string, judged: readonly Judged[]): Goal {
  const covered = of.coverage(judged)
  return { what, limit: '90 to 99 %', found: percent(covered), met: covered >= 0.9 && covered <= 0.99 }
}

/** Ink and rim were drawn four times only, which cannot tell intervals that are too wide from lucky ones. */
function tracedCoverageGoal(judged: readonly Judged[]): Goal {
  const covered = of.coverage(judged)
  const what = '95 % interval of growth, path traced, all terms: four draws of ink and rim'
  return { what, limit: 'at least 90 %', found: percent(covered), met: covered >= 0.9 }
}

function tracedGoals(photos: readonly PhotoRecord[]): Goal[] {
  const coupons = of.couponsOf(photos)
  const near = (what: string, limitUm: number, judged: readonly Judged[]): Goal => {
    const close = of.share(judged.map((each) => Math.abs(each.error) <= limitUm))
    const good = of.share(judged.map((each) => Math.abs(each.error) <= limitUm || of.inside(each)))
    return {
      what: `${what}, path traced, within ${limitUm} um or inside the stated interval`,
      limit: 'at least 95 %',
      found: `${percent(good)} (within ${limitUm} um alone: ${percent(close)})`,
      met: good >= 0.95,
    }
  }
  return [
    tracedCoverageGoal(judged(photos, 'absoluteUm')),
    near('growth', 4, coupons.map(of.growth('absoluteUm'))),
    near('print-through', 10, of.printThrough(coupons)),
    { ...farOffGoal(photos), what: `${FAR_OFF}, path traced` },
  ]
}

const FAR_OFF = `growth more than ${LARGE} standard uncertainties off in a photograph without a warning`

/** Readings far outside what is stated, in photographs without any warning; drawn ones by the terms shown. */
function farOffGoal(photos: readonly PhotoRecord[]): Goal {
  const far = photos
    .filter(({ warnings }) => warnings.length === 0)
    .flatMap(({ name, coupons }) =>
      coupons
        .filter(({ growthErrorUm, shownUm }) => Math.abs(growthErrorUm) > LARGE * shownUm)
        .map(({ slot }) => `${name} slot ${slot}`),
    )
  return {
    what: FAR_OFF,
    limit: 'none',
    found: far.length > 0 ? far.join(', ') : 'none',
    met: far.length === 0,
  }
}
