import fc from 'fast-check'
import { Readable } from 'node:stream'
import { decodeCardCode, encodeCardCode, isPhotoFile } from '../../analysis/index.js'
import { passphraseGate } from '../../server/access/passphrase.js'
import { unzipStream } from '../../server/archive/zip-stream.js'
import { ServiceError } from '../../server/plugins/errors.js'
import { labelPart, labelText } from '../../server/sheets/label-text.js'
import { readSheet } from '../../server/sheets/take-in.js'
import { fullSheet } from '../server/sheets/sheets.js'
import type { Campaign, Finding } from './campaign.js'
import { mutated } from './mutate.js'
import { nastyJson, nastyText } from './nasty.js'

interface Text {
  readonly as: 'code' | 'label' | 'sheet' | 'session' | 'zip' | 'photo'
  readonly bytes: Uint8Array
}

const SLOWEST_MS = 2000
const REFUSALS = /^(no-sheet-in-file|other-code|newer-sheet|not-a-sheet|sheet-changed)$/

const card = encodeCardCode({ ladderId: 'K7Q2XN', layerHeightUm: 50, pixelPitchUm: 34, exposuresS: [1.6, 2, 2.5] })
const label = labelText(labelPart(fullSheet))
/** YAML whose names stand for ever longer lists. */
const laughs = `a: &a [x,x,x,x,x,x,x,x,x]\n${[...'bcdefghi'].map((name, i) => `${name}: &${name} [${Array(9).fill(`*${'abcdefgh'[i]}`).join()}]`).join('\n')}`

const casesWith = (session: string): fc.Arbitrary<Text> => {
  const from = (as: Text['as'], texts: readonly string[]) =>
    fc
      .oneof(
        { weight: 6, arbitrary: mutated(texts.map((text) => Buffer.from(text))) },
        nastyText.map((text) => Buffer.from(text)),
        { weight: as === 'sheet' ? 1 : 0, arbitrary: nastyJson.map((text) => Buffer.from(text)) },
      )
      .map((bytes): Text => ({ as, bytes }))
  return fc.oneof(
    from('code', [card]),
    from('label', [label, laughs]),
    from('sheet', [JSON.stringify({ ...fullSheet, photoJpeg: undefined })]),
    from('session', [session]),
    fc
      .uint8Array({ maxLength: 400 })
      .map((noise): Text => ({ as: 'zip', bytes: Buffer.concat([Buffer.from('PK\x03\x04'), noise]) })),
    fc.uint8Array({ maxLength: 20 }).map((bytes): Text => ({ as: 'photo', bytes })),
  )
}

/** What is read out of codes, labels, sheets, cookies and the heads of files before anything else is known of them. */
export async function textCampaign(): Promise<Campaign<Text>> {
  const gate = await passphraseGate('clear as glass')
  const real = gate.newSession().token

  async function outcomeOf({ as, bytes }: Text): Promise<string> {
    const text = Buffer.from(bytes).toString()
    switch (as) {
      case 'code':
        return decodeCardCode(text).kind
      case 'photo':
        return isPhotoFile(bytes) ? 'photo' : 'no photo'
      case 'session':
        if (text !== real && gate.isSession(text)) throw new Error('a forged session')
        return 'session'
      case 'zip': {
        let files = 0
        try {
          for await (const { name } of unzipStream(Readable.from([bytes]), () => 1e6))
            files += Math.min(1, name.length + 1)
        } catch (error) {
          if (error instanceof RangeError) return 'no zip'
          throw error
        }
        return `zip of ${files}`
      }
      case 'label':
      case 'sheet':
        try {
          readSheet(as === 'label' ? { from: 'label', texts: [text] } : { from: 'json', json: text }, () => undefined)
          return as
        } catch (error) {
          if (error instanceof ServiceError && REFUSALS.test(error.code) && error.message.length < 20_000)
            return error.code
          throw error
        }
    }
  }

  return {
    name: 'texts',
    cases: casesWith(real),
    async try(texts) {
      const outcomes: string[] = []
      const findings: Finding[] = []
      for (const one of texts) {
        const input = `${one.as}: ${Buffer.from(one.bytes.subarray(0, 2000)).toString('base64')}`
        const started = process.cpuUsage()
        try {
          outcomes.push(await outcomeOf(one))
        } catch (error) {
          outcomes.push('threw')
          findings.push({ what: error instanceof Error ? (error.stack ?? '').slice(0, 600) : String(error), input })
        }
        const { user, system } = process.cpuUsage(started)
        if ((user + system) / 1000 > SLOWEST_MS) findings.push({ what: `took ${(user + system) / 1000} ms`, input })
      }
      return { outcomes, findings }
    },
    close: async () => undefined,
  }
}
