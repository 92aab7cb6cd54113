import { parseHTML } from 'linkedom'
import { readFile } from 'node:fs/promises'
import { getDocumentProxy } from 'unpdf'
import { readCodeTexts, type Refusal } from '../../analysis/index.js'
import { ATTACHED, DATA_ID } from '../sheets/carriers.js'

export interface ExtractTask {
  readonly path: string
}

/** What was found in a file: data as JSON, or the texts of codes in a picture. */
export type Extracted =
  | { readonly from: 'json' | 'html' | 'pdf'; readonly json: string }
  | { readonly from: 'label'; readonly texts: readonly string[] }
  | { readonly from: 'nothing'; readonly refusal: Refusal }

/** A sheet of text has 200 kB with its picture. */
const LONGEST_TEXT = 1_000_000

const nothing = (code: string, advice: string, detail?: string): Extracted => ({
  from: 'nothing',
  refusal: { code, advice, ...(detail !== undefined && { detail }) },
})

const NOT_A_SHEET = 'Choose the sheet itself: the JSON, HTML or PDF that Stepglass wrote, or a photograph of the label.'

/** Takes out of a file what may be a setting sheet; runs in a process of its own, since files come from strangers. */
export default async function extractSetting({ path }: ExtractTask): Promise<Extracted> {
  const bytes = await readFile(path)
  if (bytes.subarray(0, 1024).includes('%PDF-')) return fromPdf(bytes)
  const start = bytes
    .subarray(0, 64)
    .toString('utf8')
    .replace(/^\uFEFF/, '')
    .trimStart()
  if (!/^[{[<]/.test(start)) return fromPicture(bytes)
  if (bytes.length > LONGEST_TEXT)
    return nothing('sheet-too-large', NOT_A_SHEET, `${bytes.length} bytes of text, at most ${LONGEST_TEXT}`)
  const text = bytes.toString('utf8').replace(/^\uFEFF/, '')
  return start.startsWith('<') ? fromHtml(text) : { from: 'json', json: text }
}

function fromHtml(text: string): Extracted {
  const json = parseHTML(text).document.querySelector(`script[type="application/json"]#${DATA_ID}`)?.textContent
  return json ? { from: 'html', json } : nothing('no-sheet-in-file', NOT_A_SHEET, 'a page without a setting in it')
}

async function fromPdf(bytes: Uint8Array): Promise<Extracted> {
  try {
    const attachments = (await (await getDocumentProxy(new Uint8Array(bytes))).getAttachments()) as unknown
    const found = Object.values((attachments ?? {}) as Record<string, { filename: string; content: Uint8Array }>).find(
      ({ filename }) => filename === ATTACHED,
    )
    if (found) return { from: 'pdf', json: Buffer.from(found.content).toString('utf8') }
  } catch (error) {
    return nothing('damaged-file', 'Ask for the PDF again: this one is cut off or damaged.', String(error))
  }
  return nothing('no-sheet-in-file', NOT_A_SHEET, 'a PDF without a setting attached')
}

async function fromPicture(bytes: Uint8Array): Promise<Extracted> {
  const read = await readCodeTexts(bytes)
  if (read.ok && read.value.length > 0) return { from: 'label', texts: read.value }
  if (!read.ok && read.refusal.code !== 'not-an-image') return { from: 'nothing', refusal: read.refusal }
  return read.ok
    ? nothing('no-code', 'Photograph the label from nearer, in focus and without glare, with its whole code.')
    : nothing('no-sheet-in-file', NOT_A_SHEET)
}
