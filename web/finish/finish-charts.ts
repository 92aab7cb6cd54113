import { lineY, ruleY } from '@observablehq/plot'
import type { PostCureReply } from '../../server/api/finish.js'
import { draw, named } from '../charts/frame.js'
import { finishTexts } from '../texts/finish.js'

const words = finishTexts.cure
const HEIGHT_PX = 300
const axis = (label: string) => ({ ...named(label), ticks: 5 })

/** Both temperatures over time, and the limit. */
export function temperatureChart({ curve, limitC }: PostCureReply, widthPx: number): SVGSVGElement {
  const x = ({ timeS }: { timeS: number }) => timeS / 60
  return draw(widthPx, {
    height: HEIGHT_PX,
    x: axis(words.time),
    y: { label: words.temperature, labelArrow: 'none', grid: true, ticks: 5, nice: true },
    marks: [
      ruleY([limitC], { stroke: 'currentColor', strokeWidth: 2, strokeDasharray: '2 4' }),
      lineY(curve, { x, y: 'lumpedC', stroke: 'var(--suggest)', strokeWidth: 2, strokeDasharray: '7 5' }),
      lineY(curve, { x, y: 'hottestC', stroke: 'var(--data)', strokeWidth: 2.5 }),
    ],
  })
}

/** Dose on the front face over time. */
export function frontDoseChart({ curve }: PostCureReply, widthPx: number): SVGSVGElement {
  const x = ({ timeS }: { timeS: number }) => timeS / 60
  return draw(widthPx, {
    height: HEIGHT_PX,
    x: axis(words.time),
    y: { label: words.frontDose, labelArrow: 'none', grid: true, ticks: 5, zero: true },
    marks: [lineY(curve, { x, y: 'frontDoseJPerCm2', stroke: 'var(--data)', strokeWidth: 2.5 }), ruleY([0])],
  })
}

/** Dose through the part, both faces and each. */
export function depthChart({ doseAtDepth }: PostCureReply, widthPx: number): SVGSVGElement {
  const each = { x: 'depthMm', stroke: 'var(--suggest)', strokeWidth: 2, strokeDasharray: '7 5' }
  return draw(widthPx, {
    height: HEIGHT_PX,
    x: axis(words.depthAxis),
    y: { label: words.doseAxis, labelArrow: 'none', grid: true, ticks: 5, zero: true },
    marks: [
      lineY(doseAtDepth, { ...each, y: 'fromFrontJPerCm2' }),
      lineY(doseAtDepth, { ...each, y: 'fromBackJPerCm2' }),
      lineY(doseAtDepth, { x: 'depthMm', y: 'bothJPerCm2', stroke: 'var(--data)', strokeWidth: 2.5 }),
      ruleY([0]),
    ],
  })
}
