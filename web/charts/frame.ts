import { plot, type PlotOptions } from '@observablehq/plot'
import { inMarks } from '../format.js'

/**
 * Draws a plot that fits the page's rules.
 *
 * @param widthPx room on the page
 * @param options marks and scales
 */
export function draw(widthPx: number, options: PlotOptions): SVGSVGElement {
  const figure = plot({
    width: widthPx,
    height: Math.round(Math.min(Math.max(widthPx * 0.72, 300), 500)),
    marginLeft: 58,
    marginRight: 14,
    marginTop: 50,
    marginBottom: 46,
    className: 'plot',
    ...options,
  })
  if (!(figure instanceof SVGSVGElement))
    throw new TypeError(`draw needs a plot without legends, got ${figure.tagName}`)
  // The content security policy forbids a style element; style/parts.css holds these rules.
  figure.querySelector('style')?.remove()
  // The library writes numbers as in English.
  for (const tick of figure.querySelectorAll('[aria-label$="tick label"] text'))
    tick.textContent = inMarks(tick.textContent.replaceAll(',', ''))
  // Labels of plain groups are forbidden by ARIA; the whole picture carries one label instead.
  for (const group of figure.querySelectorAll('g[aria-label]')) group.removeAttribute('aria-label')
  figure.setAttribute('aria-hidden', 'true')
  return figure
}

/** How an axis is named below itself, in its middle. */
export const named = (label: string) =>
  ({ label, labelAnchor: 'center', labelArrow: 'none', labelOffset: 42 }) as const satisfies PlotOptions['x']

/** Logarithmic axis of layer exposures with a tick at each rung. */
export function exposureAxis(exposuresS: readonly number[], label: string): NonNullable<PlotOptions['x']> {
  return {
    type: 'log',
    domain: [Math.min(...exposuresS) / 1.07, Math.max(...exposuresS) * 1.07],
    ticks: [...new Set(exposuresS)],
    tickFormat: String,
    ...named(label),
  }
}
