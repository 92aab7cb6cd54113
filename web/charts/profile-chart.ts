import { dot, line, ruleY } from '@observablehq/plot'
import type { GratingReading } from '../../server/api/readings.js'
import { texts } from '../texts/page.js'
import { draw, named } from './frame.js'

type Profile = NonNullable<GratingReading['profile']>

const BELOW_PX = 190

/** Measured less fitted light across a groove, on a scale of its own. */
export function residualChart({ positionMm, light, fitted }: Profile, widthPx: number): SVGSVGElement {
  const points = light.map((value, i) => ({ x: positionMm[i] ?? 0, off: value - (fitted[i] ?? value) }))
  return draw(widthPx, {
    height: BELOW_PX,
    x: { ...named(texts.feature.profileX), ticks: 4 },
    y: { label: texts.feature.residualsY, labelArrow: 'none', grid: true, ticks: 4 },
    marks: [
      ruleY([0], { stroke: 'currentColor' }),
      dot(points, { x: 'x', y: 'off', r: points.length > 200 ? 1.6 : 3, fill: 'var(--data)', fillOpacity: 0.7 }),
    ],
  })
}

/** Light across a groove with the edges fitted to it. */
export function profileChart({ positionMm, light, fitted }: Profile, widthPx: number): SVGSVGElement {
  const x = (_: number, i: number) => positionMm[i]
  const y = (value: number) => value
  return draw(widthPx, {
    x: { ...named(texts.feature.profileX), ticks: widthPx < 460 ? 4 : 8 },
    y: { label: texts.feature.profileY, labelArrow: 'none', grid: true, ticks: 5, zero: true },
    marks: [
      ruleY([0], { stroke: 'currentColor' }),
      dot(light, { x, y, r: light.length > 200 ? 1.6 : 3, fill: 'var(--data)', fillOpacity: 0.7 }),
      line(fitted, { x, y, stroke: 'var(--suggest)', strokeWidth: light.length > 200 ? 1.5 : 2.5 }),
    ],
  })
}
