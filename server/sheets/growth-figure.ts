import { scaleLinear, scaleLog } from 'd3-scale'
import type { SettingSheet } from '../api/sheets.js'
import { textOutline } from '../pictures/text-outline.js'

/** Sizes in the figure's own unit; about 1/72 inch when it is printed 90 mm wide. */
const SIZE = { width: 256, height: 168 }
const EDGE = { left: 34, right: 8, top: 8, bottom: 30 }
const FONT = 8

type Growth = NonNullable<SettingSheet['growth']>

/** Outlined text, so that the figure looks the same wherever it is drawn. */
function put(text: string, x: number, y: number, anchor: 'start' | 'middle' | 'end' = 'start'): string {
  const { paths, width } = textOutline(text, FONT)
  const left = x - { start: 0, middle: width / 2, end: width }[anchor]
  return `<g transform="translate(${left.toFixed(2)} ${y.toFixed(2)})">${paths}</g>`
}

/**
 * Growth against exposure as an SVG in black and greys: rungs with their 95 % bars, the fit with its band, the tolerance
 * as a frame of dashes, and the exposure of the sheet as an upright line.
 *
 * @returns nothing when the sheet has no growth
 */
export function growthFigure({ growth, exposureS, usableRange }: SettingSheet): string | undefined {
  if (!growth || growth.curve.length < 2) return undefined
  const x = scaleLog(extentOf(growth.curve.map((point) => point.exposureS)), [EDGE.left, SIZE.width - EDGE.right])
  const y = scaleLinear(heightsOf(growth, usableRange?.toleranceUm), [SIZE.height - EDGE.bottom, EDGE.top]).nice(6)
  const [left, right] = x.range() as [number, number]
  const [bottom, top] = y.range() as [number, number]
  const line = (of: 'growthUm' | 'lowUm' | 'highUm') =>
    growth.curve.map((point) => `${x(point.exposureS).toFixed(2)} ${y(point[of]).toFixed(2)}`)
  const level = (um: number, dash: string) =>
    `<path d="M${left} ${y(um).toFixed(2)}H${right}" stroke="#000" stroke-width="0.6" stroke-dasharray="${dash}"/>`
  const tolerance = usableRange ? [-usableRange.toleranceUm, usableRange.toleranceUm] : []
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${SIZE.width} ${SIZE.height}" fill="none" role="img">`,
    `<title>Growth per side in µm against layer exposure in s, with the 95 % band of the fit</title>`,
    `<path d="M${line('lowUm').join('L')}L${line('highUm').reverse().join('L')}Z" fill="#ddd"/>`,
    `<path d="M${left} ${bottom}H${right}M${left} ${bottom}V${top}" stroke="#000" stroke-width="0.8"/>`,
    level(0, '1 2'),
    ...tolerance.map((um) => level(um, '5 3')),
    `<path d="M${x(exposureS).toFixed(2)} ${bottom}V${top}" stroke="#000" stroke-width="1.2"/>`,
    `<path d="M${line('growthUm').join('L')}" stroke="#555" stroke-width="1.4"/>`,
    ...growth.rungs.map(({ exposureS: at, growthUm: { value, standardUncertainty: u } }) => {
      const half = 1.96 * u
      return (
        `<path d="M${x(at).toFixed(2)} ${y(value - half).toFixed(2)}V${y(value + half).toFixed(2)}" stroke="#000" stroke-width="1"/>` +
        `<circle cx="${x(at).toFixed(2)}" cy="${y(value).toFixed(2)}" r="2.4" fill="#fff" stroke="#000" stroke-width="1"/>`
      )
    }),
    '<g fill="#000">',
    ...growth.rungs.map(({ exposureS: at }) => put(String(at), x(at), bottom + FONT + 3, 'middle')),
    ...y.ticks(5).map((um) => put(String(um).replace('-', '−'), left - 3, y(um) + 0.35 * FONT, 'end')),
    put('layer exposure, s', (left + right) / 2, SIZE.height - 4, 'middle'),
    put('growth per side, µm', left + 4, top + FONT - 1),
    '</g></svg>',
  ].join('')
}

const extentOf = (values: readonly number[]): [number, number] => [Math.min(...values), Math.max(...values)]

function heightsOf({ rungs, curve }: Growth, toleranceUm = 0): [number, number] {
  return extentOf([
    -toleranceUm,
    toleranceUm,
    ...curve.flatMap(({ lowUm, highUm }) => [lowUm, highUm]),
    ...rungs.flatMap(({ growthUm: { value, standardUncertainty: u } }) => [value - 1.96 * u, value + 1.96 * u]),
  ])
}
