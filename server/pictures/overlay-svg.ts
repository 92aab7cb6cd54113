import {
  rungText,
  type LadderDesign,
  type PointPx,
  type ReadLadder,
  type ReadRung,
  type RefusedRung,
  type Rung,
} from '../../analysis/index.js'
import { textOutline } from './text-outline.js'

/** Told apart by anyone, with dash and word besides (Okabe and Ito's palette, 2008). */
const COLOUR = {
  coupon: '#0072b2',
  grating: '#56b4e9',
  open: '#009e73',
  closed: '#d55e00',
  refused: '#d55e00',
  defect: '#cc79a7',
}
const LABEL_SIZE = 15

interface Line {
  readonly colour: string
  readonly width: number
  readonly dashed?: boolean
}

/** Draws in a picture that is `scale` times the photograph's size. */
function pen(scale: number) {
  // Pixel centres are at whole numbers in a reading, at halves in SVG.
  const place = ([column, row]: PointPx) => [(column + 0.5) * scale, (row + 0.5) * scale] as const
  const number = (value: number) => value.toFixed(1)

  /** White below the colour, so that it shows on dark and bright. */
  const drawn = (d: string, { colour, width, dashed = false }: Line) =>
    `<path d="${d}" stroke="#fff" stroke-width="${width + 2}"/>` +
    `<path d="${d}" stroke="${colour}" stroke-width="${width}"${dashed ? ' stroke-dasharray="7 5"' : ''}/>`

  const through = (points: readonly PointPx[]) =>
    `M${points.map((point) => place(point).map(number).join(' ')).join('L')}`

  return {
    outline: (points: readonly PointPx[], line: Line) => (points.length < 2 ? '' : drawn(`${through(points)}Z`, line)),

    /** From every corner to the one opposite. */
    cross: (points: readonly PointPx[], line: Line) =>
      points
        .slice(0, points.length / 2)
        .map((point, i) => drawn(through([point, points[i + Math.floor(points.length / 2)] ?? point]), line))
        .join(''),

    spot: (point: PointPx) => {
      const [x, y] = place(point).map(number)
      return `<circle cx="${x}" cy="${y}" r="6" stroke="#fff" stroke-width="4"/><circle cx="${x}" cy="${y}" r="6" stroke="${COLOUR.coupon}" stroke-width="2"/>`
    },

    /** On a plate of its own, just above what it names. */
    label: (points: readonly PointPx[], text: string, colour: string) => {
      const left = Math.min(...points.map((point) => place(point)[0]))
      const top = Math.min(...points.map((point) => place(point)[1]))
      const { paths, width } = textOutline(text, LABEL_SIZE)
      const [plateWidth, plateHeight] = [width + 10, LABEL_SIZE + 7]
      const y = Math.max(plateHeight, top - 4)
      return (
        `<g transform="translate(${number(left)} ${number(y)})" stroke="none">` +
        `<rect y="${-plateHeight}" width="${number(plateWidth)}" height="${plateHeight}" rx="3" fill="${colour}"/>` +
        `<g transform="translate(5 -6)" fill="#fff">${paths}</g></g>`
      )
    },
  }
}
type Pen = ReturnType<typeof pen>

const signed = (value: number) => `${value < 0 ? '−' : '+'}${Math.abs(value).toFixed(0)}`

function drawRead({ outline, label }: Pen, rung: ReadRung, design: LadderDesign): string {
  const thin = (colour: string, dashed = false): Line => ({ colour, width: 1.5, dashed })
  const { value, standardUncertainty } = rung.growthUm
  return [
    outline(rung.outlinePx, { colour: COLOUR.coupon, width: 3 }),
    outline(rung.windowOutlinePx, thin(COLOUR.coupon, true)),
    ...rung.gratings.map(({ outlinePx }) => outline(outlinePx, thin(COLOUR.grating))),
    ...rung.gaps.map(({ outlinePx, state }) =>
      outline(outlinePx, state === 'open' ? thin(COLOUR.open) : thin(COLOUR.closed, true)),
    ),
    ...rung.isolated.map(({ outlinePx, survives }) =>
      outline(outlinePx, survives ? thin(COLOUR.open) : thin(COLOUR.closed, true)),
    ),
    ...(rung.window?.defects ?? []).map(({ outlinePx }) => outline(outlinePx, thin(COLOUR.defect))),
    label(
      rung.outlinePx,
      `${rung.slot}: ${rungText(design, rung.slot)}, ${signed(value)} ± ${standardUncertainty.toFixed(0)} µm`,
      COLOUR.coupon,
    ),
  ].join('')
}

function drawRefused({ outline, cross, label }: Pen, rung: RefusedRung): string {
  const line: Line = { colour: COLOUR.refused, width: 3, dashed: true }
  return [
    outline(rung.outlinePx, line),
    cross(rung.outlinePx, line),
    rung.outlinePx.length > 0 ? label(rung.outlinePx, `${rung.slot}: not read`, COLOUR.refused) : '',
  ].join('')
}

/**
 * What was found on a photograph, to be laid over it.
 *
 * @param picture size at which the photograph is shown, pixels
 */
export function overlaySvg(
  { photo, card, rungs, design }: ReadLadder,
  picture: { readonly width: number; readonly height: number },
): string {
  const drawing = pen(picture.width / photo.widthPx)
  const drawRung = (rung: Rung) => ('refusal' in rung ? drawRefused(drawing, rung) : drawRead(drawing, rung, design))
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${picture.width}" height="${picture.height}" fill="none" stroke-linejoin="round">`,
    ...card.fiducialsPx.map(drawing.spot),
    ...rungs.map(drawRung),
    '</svg>',
  ].join('')
}
