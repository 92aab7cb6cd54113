import { dot, lineY } from '@observablehq/plot'
import type { ReadLadder } from '../../server/api/readings.js'
import { workTexts } from '../texts/work.js'
import { draw, named } from './frame.js'

type Tone = ReadLadder['tone']
type Curve = NonNullable<Tone['curve']>

/** Code value that the curve gives a light, between its points along a straight line. */
function codeAt(curve: Curve, light: number): number {
  const upper = curve.findIndex((point) => point.light >= light)
  const [to, from] = [curve[upper] ?? curve.at(-1), curve[upper - 1] ?? curve[0]]
  if (!to || !from) return NaN
  const share = to.light === from.light ? 0 : (light - from.light) / (to.light - from.light)
  return from.codeValue + share * (to.codeValue - from.codeValue)
}

/** Fitted tone curve and sRGB, with each grating at the light its ink gives and the grey it shows. */
export function toneChart(curve: Curve, patches: Tone['patches'], widthPx: number): SVGSVGElement {
  const { x, y } = workTexts.tone
  const shown = patches.map(({ expectedLight, readLight }) => ({ expectedLight, codeValue: codeAt(curve, readLight) }))
  return draw(widthPx, {
    x: { ...named(x), domain: [0, 1], ticks: 5 },
    y: { domain: [0, 1], label: y, labelArrow: 'none', grid: true, ticks: 5 },
    marks: [
      lineY(curve, {
        x: 'light',
        y: 'srgbCodeValue',
        stroke: 'var(--suggest)',
        strokeWidth: 2,
        strokeDasharray: '6 4',
      }),
      lineY(curve, { x: 'light', y: 'codeValue', stroke: 'var(--data)', strokeWidth: 2.5 }),
      dot(shown, {
        x: 'expectedLight',
        y: 'codeValue',
        r: 5.5,
        fill: 'var(--data)',
        stroke: 'var(--surface)',
        strokeWidth: 2,
      }),
    ],
  })
}
