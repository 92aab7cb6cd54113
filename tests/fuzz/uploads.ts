import fc from 'fast-check'
import { zipSync, strToU8 } from 'fflate'
import type { Campaign } from './campaign.js'
import { imageFiles } from './image-files.js'
import { mutated } from './mutate.js'
import { nastyText, nastyValue, sendable } from './nasty.js'
import { fuzzedService, type Request } from './service.js'

const BOUNDARY = 'x-y-z'
const quoted = nastyText.map((text) => sendable(text.replaceAll(/[\r\n"]/g, '_')))

/** Forms that are nearly one: names and file names of all sorts, too many parts, none, lines in the wrong place. */
function forms(photos: readonly Uint8Array[]): fc.Arbitrary<Buffer> {
  const field = fc
    .tuple(
      fc.oneof(fc.constantFrom('toleranceUm', 'timeStepS', 'caliperMm', 'turnedSlots', 'uploadId'), quoted),
      nastyText,
    )
    .map(([name, value]) => Buffer.from(`content-disposition: form-data; name="${name}"\r\n\r\n${value}`))
  const file = fc
    .tuple(
      fc.constantFrom('photo', 'sheet', 'photo ', 'x'),
      fc.oneof(fc.constant('bench.jpg'), quoted),
      mutated(photos),
    )
    .map(([name, fileName, bytes]) =>
      Buffer.concat([
        Buffer.from(
          `content-disposition: form-data; name="${name}"; filename="${fileName}"\r\ncontent-type: image/jpeg\r\n\r\n`,
        ),
        bytes,
      ]),
    )
  const parts = fc.array(fc.oneof({ weight: 2, arbitrary: file }, field, fc.uint8Array({ maxLength: 80 })), {
    maxLength: 6,
  })
  const whole = parts.map((list) => {
    const lines = list.flatMap((part) => [Buffer.from(`--${BOUNDARY}\r\n`), Buffer.from(part), Buffer.from('\r\n')])
    return Buffer.concat([...lines, Buffer.from(`--${BOUNDARY}--\r\n`)])
  })
  return fc.oneof(
    { weight: 3, arbitrary: whole },
    whole.chain((bytes) => mutated([bytes.length > 0 ? bytes : Buffer.from('-')])).map((bytes) => Buffer.from(bytes)),
  )
}

const contents = {
  schema: 'stepglass-archive-1',
  exportedAt: '2026-01-01T00:00:00.000Z',
  records: [],
  ladders: [],
  photos: [],
  readings: [],
  leftOut: [],
}
const wayOut = fc.constantFrom(
  '../../outside.txt',
  '/tmp/outside.txt',
  'photos/../../outside.jpg',
  '..\\outside.txt',
  'photos/' + '0'.repeat(64) + '.jpg',
  'stepglass.json',
  '',
)
const photoEntry = fc.record({
  photoId: fc.oneof(fc.stringMatching(/^[0-9a-f]{64}$/), nastyText),
  extension: fc.oneof(fc.constantFrom('jpg', '../x', 'png/..', 'sqlite'), nastyText),
  name: nastyText,
  bytes: fc.integer(),
  simulated: fc.boolean(),
  createdAt: nastyText,
})

/** Zips that want out of their folder, unpack to far more than they are, say one thing and hold another. */
const archives: fc.Arbitrary<Buffer> = fc
  .tuple(
    fc.oneof(
      fc.constant(contents),
      fc.array(photoEntry, { maxLength: 3 }).map((photos) => ({ ...contents, photos })),
      fc
        .tuple(fc.constantFrom(...Object.keys(contents)), nastyValue)
        .map(([name, value]) => ({ ...contents, [name]: value })),
      nastyValue,
    ),
    fc.array(
      fc.tuple(
        fc.oneof(wayOut, nastyText),
        fc.oneof(fc.uint8Array({ maxLength: 99 }), fc.constant(new Uint8Array(2e6))),
      ),
      {
        maxLength: 3,
      },
    ),
    fc.constantFrom(0, 9),
  )
  .map(([first, files, level]) => {
    const entries = Object.fromEntries(
      files.map(([name, bytes]) => [name === '__proto__' || name === '' ? 'x' : name, bytes]),
    )
    return Buffer.from(
      zipSync({ 'stepglass.json': strToU8(JSON.stringify(first) ?? ''), ...entries }, { level: level }),
    )
  })

/** Bodies that arrive as a stream: forms with photographs or sheets, and archives to import. */
export async function uploadCampaign(): Promise<Campaign<Request>> {
  const service = await fuzzedService()
  const photos = await imageFiles(40, 30)
  const exported = await service.app.inject({ url: '/api/archive.zip', headers: { host: 'localhost' } })
  const form = fc.oneof(
    { weight: 9, arbitrary: fc.constant(`multipart/form-data; boundary=${BOUNDARY}`) },
    fc.constantFrom(
      'multipart/form-data',
      'multipart/form-data; boundary=',
      `multipart/form-data; boundary=${'y'.repeat(9999)}`,
    ),
  )
  const ofForms = fc
    .tuple(fc.constantFrom('/api/photos', '/api/settings/take-in'), form, forms(photos))
    .map(([url, type, payload]) => ({
      method: 'POST',
      url,
      headers: { host: 'localhost', 'content-type': type },
      payload,
    }))
  const ofArchives = fc
    .oneof(
      archives,
      mutated([exported.rawPayload]),
      archives.chain((bytes) => mutated([bytes])),
    )
    .map((bytes) => ({
      method: 'POST',
      url: '/api/archive',
      headers: { host: 'localhost', 'content-type': 'application/zip' },
      payload: Buffer.from(bytes),
    }))
  return {
    name: 'uploads and archives',
    cases: fc.oneof(ofForms, ofArchives),
    async try(requests) {
      const outcomes: string[] = []
      const findings = []
      for (const request of requests) {
        const answer = await service.ask(request)
        outcomes.push(answer.outcome)
        findings.push(...answer.findings)
      }
      for (const name of service.leftBehind()) findings.push({ what: `left behind: ${name}`, input: 'in this batch' })
      return { outcomes, findings }
    },
    close: () => service.close(),
  }
}
