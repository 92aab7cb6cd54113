import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { changeLamp, changeLayerHeight, planFirstLadder } from '../../analysis/index.js'
import { compareReadings } from '../../analysis/compare/compare-readings.js'
import type { Comparison } from '../../server/api/compare.js'
import type { FirstLadderRequest, LayerHeightReply } from '../../server/api/planning.js'
import { answers } from '../../web/texts/de/answers.js'
import { failures } from '../../web/texts/de/failures.js'
import { reasons } from '../../web/texts/de/reasons.js'
import { labelledLadder } from '../support/labelled-ladder.js'

/** All numbers of a sentence: whatever the language, they are the same. */
const numbersIn = (text: string) => (text.match(/\d+(\.\d+)?/g) ?? []).map(Number).sort((a, b) => a - b)

describe('German answers give the numbers that the service gives in English', () => {
  it.each([
    { what: 'a known depth', depth: { valueUm: 140, intervalUm: [110, 180] } as const },
    { what: 'an unknown depth', depth: undefined },
  ])('at another layer height, for $what', ({ depth }) => {
    for (const toUm of [30, 100]) {
      const answer = changeLayerHeight({ exposureS: 2.4, fromUm: 50, toUm, depth })
      const reply = { ...answer, fromUm: 50, toUm, warnings: [] } as unknown as LayerHeightReply
      expect(numbersIn(answers.layerHeight(reply))).toEqual(numbersIn(answer.inWords))
      for (const rule of [reply.bond, reply.accumulated])
        expect(numbersIn(answers.risk(rule, toUm < 50))).toEqual(numbersIn(rule.risk))
    }
  })

  it('under another lamp', () => {
    for (const reason of ['ageing', 'printer'] as const) {
      const { caution } = changeLamp({ exposureS: 2, from: { mwPerCm2: 3 }, to: { mwPerCm2: 2 }, reason })
      expect(numbersIn(answers.lamp[reason])).toEqual(numbersIn(caution))
    }
  })

  it('for a first ladder', () => {
    const known: FirstLadderRequest['known'][] = [
      { kind: 'nothing' },
      { kind: 'setting', exposureS: 2.4, layerUm: 50 },
      { kind: 'setting', exposureS: 2.4, layerUm: 100 },
      { kind: 'curve', penetrationDepthUm: 140, criticalDoseMjPerCm2: 4, irradianceMwPerCm2: 3 },
    ]
    for (const one of known)
      expect(numbersIn(answers.firstLadder(one, 50))).toEqual(numbersIn(planFirstLadder(50, one).why))
  })

  it('between bottles and over time', () => {
    const bottle = (name: string, add: number) =>
      [0, 1, 2, 3, 4, 5, 6, 7].map((i) =>
        labelledLadder({
          photo: `${name} ${i}`,
          ladderId: `LAD${name}${i}`,
          labels: { bottle: name },
          date: `2026-01-0${i + 1}T10:00:00Z`,
          haze: [2, 2.4, 2.9].map((exposureS, k) => ({
            exposureS,
            value: 0.08 + add + 0.002 * ((3 * i + k) % 5) + (name === 'C' && i > 4 ? 0.2 : 0),
          })),
        }),
      )
    const compared = compareReadings([...bottle('A', 0), ...bottle('B', 0.0004), ...bottle('C', 0.3)], {
      by: 'bottle',
      of: 'haze',
      wantedDifference: 0.001,
    })
    if (!compared.ok) throw new Error(compared.refusal.code)
    const comparison: Comparison = compared.value
    expect(comparison.differences.map(({ differs }) => differs).sort()).toEqual([false, true, true])
    for (const difference of comparison.differences)
      expect(numbersIn(answers.difference(difference, comparison))).toEqual(numbersIn(difference.inWords))
    expect(comparison.overTime.map(({ change }) => change !== undefined)).toEqual([false, false, true])
    for (const series of comparison.overTime)
      expect(numbersIn(answers.overTime(series, 'haze'))).toEqual(numbersIn(series.inWords))
  })
})

/** What only programs are told, or what is said before the page is reached. */
const NOT_ON_THE_PAGE = [
  ...['bad-request', 'not-found', 'not-a-form', 'no-such-slot', 'foreign-origin', 'foreign-name'],
  ...['passphrase', 'too-many-attempts'],
]

/** A failure as the service writes it: `new ServiceError(404, 'code'`, `because('code'`, `nothing('code'`, `code: 'code'`. */
const FAILURE = /(?:ServiceError\(\s*\d+,|\b(?:because|nothing|refuse)\(|\bcode:)\s*'([a-z][a-z-]+)'/g

it('says each failure of the service in German', () => {
  const files = readdirSync('server', { recursive: true, encoding: 'utf8' }).filter(
    (name) => name.endsWith('.ts') && !/^(commands|finish|backup)\//.test(name),
  )
  const codes = new Set(
    files.flatMap((name) =>
      [...readFileSync(join('server', name), 'utf8').matchAll(FAILURE)].map((match) => match[1]!),
    ),
  )
  for (const code of ['disk-full', 'too-many-waiting', 'took-too-long', 'no-such-photo', 'levels-go-down'])
    expect(codes).toContain(code)
  const german = { ...reasons, ...failures }
  expect([...codes].filter((code) => !(code in german) && !NOT_ON_THE_PAGE.includes(code))).toEqual([])
})
