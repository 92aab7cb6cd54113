import { DRAWS, GROUPS, RESOLUTION, SEEDS } from './cases.js'
import { goalTable } from './goals.js'
import type { PhotoRecord, WindowRecord } from './records.js'
import * as of from './statistics.js'
import { percent, signed, table, um } from './table.js'
import { windowTable } from './windows.js'

/** The text of docs/accuracy.md: every number in it comes from the photographs given. */
export function report(photos: readonly PhotoRecord[], windows: readonly WindowRecord[]): string {
  const drawn = photos.filter(({ group }) => GROUPS.some((name) => name === group))
  const traced = photos.filter(({ group }) => group === 'path-traced')
  return [
    '# How accurate the reading is',
    `**Everything here is simulated.** No real photograph is in it. \`npm run accuracy\` wrote this page; the numbers behind
it are in [accuracy.json](accuracy.json).`,
    `- **Drawn**: ${drawn.length} photographs of six coupons, ${RESOLUTION.width} x ${RESOLUTION.height} pixels, about 40 um a pixel on the coupons, every
parameter at random (\`tests/accuracy/cases.ts\`): growth, print-through, place and turn of each coupon, ink in the
grooves or on the lands, haze, tilt to 15 degrees, roll, distance, k1, blur, noise, colour filter, light, paper, ink and
its gain, print scale, JPEG quality 85 to 95. Their coupons are flat: they show what camera and card do, not what walls of
grooves, ink on a rim or a mask's pixels do. Those terms of the budget are left out where it says "terms shown".
- **Two draws**: terms of the budget and limits of warnings were chosen on the one of seed ${SEEDS['chosen-on']}; the other, of seed
${SEEDS['held-out']}, was drawn and read when they were fixed.
- **Path traced**: ${traced.length} photographs of four scenes in \`samples/\`: clear resin, ink, shadows, walls. They are few, and four
scenes are four draws of ink and rim, no more.
- Coupons of one photograph share its camera, so that the number of photographs, not of coupons, says how well a figure
is known. Growth is per side; a line's width is off by twice that. Intervals are k = 1.96.`,
    '## Against the goals',
    goalTable(photos, windows),
    `The bound knows the camera's tone curve, levels and blur being free; it counts the noise of sensor and 8 bits, not of JPEG. What
all gratings of a photograph share is in no difference between coupons; about half of it is the tone curve, which the patches
tell to some 0.2 % of its exponent ("the camera's tone curve" in the budget). The path-traced intervals are
wide for what ink and rim may do: four scenes are four draws of it, and that all lie within one standard uncertainty would
happen to true intervals about once in five times.`,
    '## Growth, drawn coupons',
    byGroup(drawn),
    `"Of a photograph": what all its coupons share of a line's width, in pixels, without its sign. "All terms" counts ink, rim
and mask, which no drawn photograph shows: such intervals are wide here, and must be.`,
    '## Differences between coupons of a photograph, drawn',
    differenceTable(drawn),
    '## Print-through and dose-to-size',
    otherTable(drawn, traced),
    '## Path-traced photographs',
    tracedTable(traced),
    '## Windows, path traced',
    `Haze index against the share of light that the same window sends beyond 2.5 degrees, in points (hundredths); delta b* of 3 mm
of resin against what its absorption does to white. The single windows of \`samples/windows\` were traced with 64 and 128
samples a pixel, which leaves ten times a photograph's noise: two tracings of one window read 0.4 points of haze apart.
"Layer lines" of 1 and 3 um; "alike" two bottles 1.5 points apart under five lights, and five tints; "whole" the frames of
\`samples/\`; "other frames" windows of six more, whose coupons have gratings, ink, walls and careless places of their own:
four that nothing was chosen on, and two that helped to choose how much the windows of a photograph share; "low panel" those of one lit
from 25 degrees above the table, whose light comes in beside the plates. "Finished" with a tone curve, smoothing and sharpening, as by a phone.`,
    windowTable(windows),
    '## Washed grooves seen askew, path traced',
    `Behind a groove's rim the far wall lies D = d tan(asin(sin t / n)) to the side. How much of it shows depends on D over the
rim's radius, which nobody measures: the reader allows 0.1 D a side, the mean over rims of 10 to 40 um, and its term "view
off the axis" must cover the rest. Coupons by column of the card:`,
    askewTable(traced.filter(({ ink }) => ink?.method === 'wash')),
  ].join('\n\n')
}

function byGroup(drawn: readonly PhotoRecord[]): string {
  const head = ['group', 'draw', 'photos', 'coupons', 'refused', 'growth, bias and sd, um', 'width, bias and sd, um']
  return table(
    [...head, 'of a photograph, px, median / 95 %', 'inside 95 %, terms shown', 'all terms', 'warned "smoothed"'],
    GROUPS.flatMap((group) => DRAWS.map((draw) => ({ group, draw }))).map(({ group, draw }) => {
      const own = drawn.filter((photo) => photo.group === group && photo.draw === draw)
      const coupons = of.couponsOf(own)
      const errors = coupons.map(({ growthErrorUm }) => growthErrorUm)
      const widths = errors.map((error) => 2 * error)
      const offsets = of.offsetsPx(own)
      return [
        group,
        draw,
        own.length,
        coupons.length,
        own.flatMap(({ refused }) => refused).length,
        `${signed(of.bias(errors))}, ${um(of.scatter(errors))}`,
        `${signed(of.bias(widths))}, ${um(of.scatter(widths))}`,
        `${of.middle(offsets).toFixed(3)} / ${of.upper(offsets).toFixed(3)}`,
        percent(of.coverage(coupons.map(of.growth('shownUm')))),
        percent(of.coverage(coupons.map(of.growth('absoluteUm')))),
        percent(of.share(own.map(({ warnings }) => warnings.includes('smoothed')))),
      ]
    }),
  )
}

function differenceTable(drawn: readonly PhotoRecord[]): string {
  return table(
    ['group', 'pairs', 'rms of growth, um', 'rms of width, um', '95 % of width, um', 'inside 95 %, terms shown', 'all'],
    GROUPS.map((group) => {
      const own = drawn.filter((photo) => photo.group === group)
      const shown = of.differences(own, 'shownWithinUm')
      const errors = shown.map(({ error }) => error)
      return [
        group,
        errors.length,
        um(of.rms(errors)),
        um(2 * of.rms(errors)),
        um(2 * of.upper(errors)),
        percent(of.coverage(shown)),
        percent(of.coverage(of.differences(own, 'withinUm'))),
      ]
    }),
  )
}

function otherTable(drawn: readonly PhotoRecord[], traced: readonly PhotoRecord[]): string {
  const rows = [...GROUPS.map((group) => [group, drawn.filter((photo) => photo.group === group)] as const)]
  return table(
    [
      ...['group', 'print-through, bias and sd, um', 'inside 95 %'],
      ...['dose-to-size, n', 'bias and sd, %', 'inside 95 %', 'half interval, %, median'],
    ],
    [...rows, ['path-traced', traced] as const].map(([name, own]) => {
      const closing = of.printThrough(of.couponsOf(own))
      const errors = closing.map(({ error }) => error)
      const doses = own.flatMap(({ doseToSize }) => doseToSize ?? [])
      const dose = doses.map(({ errorPercent }) => errorPercent)
      return [
        name,
        `${signed(of.bias(errors))}, ${um(of.scatter(errors))}`,
        percent(of.coverage(closing)),
        doses.length,
        `${signed(of.bias(dose))}, ${um(of.scatter(dose))}`,
        percent(of.share(doses.map(({ inside }) => inside))),
        of.middle(doses.map(({ halfWidthPercent }) => halfWidthPercent)).toFixed(1),
      ]
    }),
  )
}

function tracedTable(traced: readonly PhotoRecord[]): string {
  return table(
    ['photograph', 'growth: mean, largest error, um', 'stated u, um', 'differences, rms, um', 'stated, um', 'warnings'],
    traced.map(({ name, coupons, warnings, ...photo }) => {
      const errors = coupons.map(({ growthErrorUm }) => growthErrorUm)
      const between = of.differences([{ name, coupons, warnings, ...photo }], 'withinUm')
      return [
        name,
        `${signed(of.bias(errors))}, ${um(Math.max(...errors.map(Math.abs)))}`,
        um(of.rms(coupons.map(({ absoluteUm }) => absoluteUm))),
        um(of.rms(between.map(({ error }) => error))),
        um(of.rms(between.map(({ uncertainty }) => uncertainty))),
        warnings.join(', '),
      ]
    }),
  )
}

function askewTable(washed: readonly PhotoRecord[]): string {
  return table(
    [
      'photograph',
      'rim, um',
      'slots',
      'angle across, degrees',
      'D, um',
      'D / rim',
      'edges read, um',
      'with allowance, um',
    ],
    washed.flatMap(({ name, coupons, ink }) =>
      [1, 0].flatMap((odd) => {
        const own = coupons.filter(({ slot, askew }) => slot % 2 === odd && askew)
        const average = (pick: (coupon: (typeof own)[number]) => number) => of.bias(own.map(pick))
        const beside = average(({ askew }) => askew?.besideUm ?? NaN)
        const rim = ink?.rimUm ?? NaN
        return [
          [
            name,
            rim,
            own.map(({ slot }) => slot).join(', '),
            average(({ askew }) => askew?.acrossDeg ?? NaN).toFixed(1),
            beside.toFixed(1),
            (beside / rim).toFixed(2),
            signed(average(({ askew }) => askew?.edgeErrorUm ?? NaN)),
            signed(average(({ growthErrorUm }) => growthErrorUm)),
          ],
        ]
      }),
    ),
  )
}
