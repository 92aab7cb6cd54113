import sharp from 'sharp'
import type { SettingSheet } from '../api/sheets.js'
import { textOutline } from '../pictures/text-outline.js'
import { drawCode } from './code-drawing.js'
import { growthFigure } from './growth-figure.js'
import { labelPart, labelText } from './label-text.js'
import { sheetWords } from './sheet-words.js'

/** Pixels: what chat programs show without shrinking it. */
const WIDTH = 1080
const HEIGHT = 1350
const MARGIN = 60
const CODE_SIDE = 330

/** A sheet as a picture for a chat: the exposure, what it is for, the growth, and the code that holds it. */
export async function sheetPicture(sheet: SettingSheet): Promise<Buffer> {
  const { title, exposure, range, warning } = sheetWords(sheet)
  const figure = growthFigure(sheet)
  const { modules, path } = drawCode(labelText(labelPart(sheet)))
  const inner = WIDTH - 2 * MARGIN
  const svg = [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${HEIGHT}">`,
    '<rect width="100%" height="100%" fill="#fff"/>',
    line(warning ?? '', MARGIN, 80, inner, 30),
    line(title, MARGIN, 150, inner, 40),
    line(exposure, MARGIN, 330, inner, 170),
    line(range, MARGIN, 400, inner, 36),
    figure ? figure.replace('<svg ', `<svg x="${MARGIN}" y="440" width="${inner}" height="520" `) : '',
    `<g transform="translate(${MARGIN} ${HEIGHT - MARGIN - CODE_SIDE}) scale(${CODE_SIDE / modules})"><path d="${path}"/></g>`,
    ...besideCode(sheet).map((text, i) =>
      line(text, MARGIN + CODE_SIDE + 30, HEIGHT - MARGIN - CODE_SIDE + 70 + 55 * i, inner - CODE_SIDE - 30, 32),
    ),
    '</svg>',
  ].join('')
  return sharp(Buffer.from(svg)).png({ palette: true, colours: 16 }).toBuffer()
}

const besideCode = ({ madeOn, madeBy, bottle, temperatureC }: SettingSheet): string[] => [
  ...(bottle ? [[bottle.name, bottle.batch].filter(Boolean).join(', ')] : []),
  ...(temperatureC === undefined ? [] : [`resin at ${temperatureC} °C`]),
  [madeOn, madeBy].filter(Boolean).join(', '),
  'another bottle or printer: test first',
]

/** A line in black that shrinks to the room it has. */
function line(text: string, x: number, y: number, room: number, size: number): string {
  const { width } = textOutline(text, size)
  const { paths } = textOutline(text, width > room ? (size * room) / width : size)
  return `<g transform="translate(${x} ${y})">${paths}</g>`
}
