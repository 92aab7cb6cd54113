import fc from 'fast-check'
import { zlibSync } from 'fflate'
import { openProcessPool, TaskError } from '../../server/worker/process-pool.js'
import { sheetHtml } from '../../server/sheets/sheet-html.js'
import { sheetPdf } from '../../server/sheets/sheet-pdf.js'
import { labelPart, labelText } from '../../server/sheets/label-text.js'
import { codePicture, fullSheet } from '../server/sheets/sheets.js'
import type { Campaign, Finding } from './campaign.js'
import type { FileTask } from './file-task.js'
import { imageFiles } from './image-files.js'
import { mutated, polyglot } from './mutate.js'

const module = new URL('./file-task.ts', import.meta.url)
const SHOWN_BYTES = 6000
const shown = (bytes: Uint8Array) => Buffer.from(bytes.subarray(0, SHOWN_BYTES)).toString('base64')

/** Files tried in a process under the limits of a reader: it may refuse each, but must neither end nor run late. */
function campaignOf(name: string, as: FileTask['as'], cases: fc.Arbitrary<Uint8Array>): Campaign<Uint8Array> {
  const pool = openProcessPool({ processes: 1, timeLimitMs: 120_000, heapMb: 1024, memoryMb: 2048, maxWaiting: 1 })
  return {
    name,
    cases,
    async try(files) {
      const outcomes: string[] = []
      const findings: Finding[] = []
      let from = 0
      while (from < files.length) {
        let last = 0
        const task: FileTask = { as, files: files.slice(from) }
        try {
          const some = await pool.run<string[]>(module, task, (index) => (last = Number(index)))
          outcomes.push(...some)
          from = files.length
        } catch (error) {
          const what = error instanceof TaskError ? `${error.reason}: ${error.message}` : String(error)
          findings.push({ what, input: shown(files[from + last] ?? new Uint8Array()) })
          outcomes.push('ended the process')
          from += last + 1
        }
      }
      outcomes.forEach((what, i) => {
        if (what.startsWith('threw')) findings.push({ what, input: shown(files[i] ?? new Uint8Array()) })
      })
      return { outcomes: outcomes.map((outcome) => outcome.replace(/:.*/s, '')), findings }
    },
    close: () => pool.close(),
  }
}

/** @see ISO/IEC 15948, annex D */
function crc32(bytes: Uint8Array): number {
  let crc = 0xffffffff
  for (const byte of bytes) {
    crc ^= byte
    for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1
  }
  return ~crc >>> 0
}

function pngChunk(type: string, data: Uint8Array): Buffer {
  const named = Buffer.concat([Buffer.from(type), data])
  const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)]
  length.writeUInt32BE(data.length)
  check.writeUInt32BE(crc32(named))
  return Buffer.concat([length, named, check])
}

const pixels = zlibSync(new Uint8Array(1e6))

/** Files of some hundred bytes that say they are huge, in every order of magnitude. */
const bombs: fc.Arbitrary<Uint8Array> = fc
  .tuple(
    fc.integer({ min: 0, max: 31 }),
    fc.integer({ min: 0, max: 31 }),
    fc.constantFrom(0, 2, 3, 6),
    fc.constantFrom(1, 8, 16),
  )
  .map(([width, height, colour, depth]) => {
    const header = Buffer.alloc(13)
    header.writeUInt32BE(2 ** width)
    header.writeUInt32BE(2 ** height, 4)
    header.set([depth, colour], 8)
    const start = Buffer.from('\x89PNG\r\n\x1a\n', 'latin1')
    return Buffer.concat([start, pngChunk('IHDR', header), pngChunk('IDAT', pixels), pngChunk('IEND', Buffer.alloc(0))])
  })

async function damagedPhotos(): Promise<fc.Arbitrary<Uint8Array>> {
  const files = await imageFiles(64, 48)
  return fc.oneof({ weight: 12, arbitrary: mutated(files) }, polyglot(files), bombs)
}

/** Photographs of every format, damaged, mixed and blown up, decoded for a reading. */
export const readCampaign = async () => campaignOf('photographs to read', 'photo', await damagedPhotos())

/** The same, made a picture for the screen. */
export const showCampaign = async () => campaignOf('photographs to show', 'picture', await damagedPhotos())

/** Setting sheets of every carrier, damaged and mixed. */
export async function sheetCampaign(): Promise<Campaign<Uint8Array>> {
  const files = [
    Buffer.from(JSON.stringify(fullSheet)),
    Buffer.from(sheetHtml(fullSheet)),
    Buffer.from(await sheetPdf(fullSheet, 'a4')),
    await codePicture(labelText(labelPart(fullSheet)), 240)
      .png()
      .toBuffer(),
  ]
  return campaignOf('sheets to take in', 'sheet', fc.oneof({ weight: 12, arbitrary: mutated(files) }, polyglot(files)))
}
