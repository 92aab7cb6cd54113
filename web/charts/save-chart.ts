import { saveFile } from '../save-file.js'

/** The numbers of a chart as a table. */
export interface ChartTable {
  /** Name of the file, without its ending. */
  readonly name: string
  readonly columns: readonly string[]
  readonly rows: readonly (readonly (string | number | undefined)[])[]
}

/** Pixels of a saved picture for each pixel on the page. */
const PNG_SCALE = 3

const quoted = (value: string | number | undefined): string => {
  const text = String(value ?? '')
  // What a spreadsheet would run as a formula is made text.
  const safe = typeof value === 'string' && /^[=+\-@\t\r]/.test(text) ? `'${text}` : text
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe
}

/** A table as CSV (RFC 4180). */
export const csvOf = ({ columns, rows }: ChartTable): string =>
  [columns, ...rows].map((row) => row.map(quoted).join(',')).join('\r\n') + '\r\n'

/** A chart as a picture that stands by itself: the page's colours and letters written into it. */
export function svgOf(chart: SVGSVGElement): string {
  const page = getComputedStyle(document.documentElement)
  const colour = (name: string) => page.getPropertyValue(name).trim()
  const copy = chart.cloneNode(true) as SVGSVGElement
  copy.setAttribute('xmlns', 'http://www.w3.org/2000/svg')
  copy.setAttribute('color', colour('--ink'))
  copy.setAttribute('fill', colour('--ink'))
  copy.setAttribute('font-family', 'system-ui, sans-serif')
  copy.setAttribute('font-size', '14')
  const ground = document.createElementNS('http://www.w3.org/2000/svg', 'rect')
  for (const [name, value] of Object.entries({ width: '100%', height: '100%', fill: colour('--surface') }))
    ground.setAttribute(name, value)
  copy.prepend(ground)
  return new XMLSerializer().serializeToString(copy).replaceAll(/var\((--[\w-]+)\)/g, (_, name: string) => colour(name))
}

async function pngOf(chart: SVGSVGElement): Promise<Blob | null> {
  const image = new Image()
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svgOf(chart))}`
  await image.decode()
  const canvas = document.createElement('canvas')
  canvas.width = PNG_SCALE * chart.clientWidth
  canvas.height = PNG_SCALE * chart.clientHeight
  canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height)
  return new Promise((resolve) => canvas.toBlob(resolve, 'image/png'))
}

export type ChartFormat = 'svg' | 'png' | 'csv'

/** Hands a chart to the person as a file. */
export async function saveChart(chart: SVGSVGElement, table: ChartTable, format: ChartFormat): Promise<void> {
  const file = `${table.name}.${format}`
  if (format === 'csv') return saveFile(new Blob([csvOf(table)], { type: 'text/csv' }), file)
  if (format === 'svg') return saveFile(new Blob([svgOf(chart)], { type: 'image/svg+xml' }), file)
  const png = await pngOf(chart)
  if (png) saveFile(png, file)
}
