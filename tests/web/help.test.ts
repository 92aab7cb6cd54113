import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { codeTitle } from '../../web/format.js'
import { helpCodes, helpTopics, serviceHelpCodes, topicOf } from '../../web/help/help-codes.js'
import { reasons as german } from '../../web/texts/de/reasons.js'
import { failures } from '../../web/texts/de/failures.js'
import { help } from '../../web/texts/en/help.js'

/** A reason as the analysis writes it: `refuse('code'`, `note('code'`, `code: 'code'`, or `['code', 'Advice …']`. */
const REASON =
  /(?:refuse|note)\(\s*'([a-z][a-z-]+)'|\bcode: (?:[^\n]*\? )?'([a-z][a-z-]+)'|\[\s*'([a-z]+(?:-[a-z]+)*)',\s*(?:unsharpened|['"][A-Z])/g

function reasons(): Set<string> {
  const files = readdirSync('analysis', { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.ts'))
  const found = files.flatMap((name) =>
    [...readFileSync(join('analysis', name), 'utf8').matchAll(REASON)].map(
      (match) => match[1] ?? match[2] ?? match[3]!,
    ),
  )
  return new Set(found)
}

it('has a picture for every reason the analysis can give, and for no other', () => {
  const known = Object.values(helpCodes).flat() as string[]
  expect(known.toSorted()).toEqual([...reasons()].toSorted())
})

it('finds reasons in each way the analysis writes them', () => {
  for (const code of ['no-card', 'unlabelled', 'mark-in-window', 'coupon-mirrored', 'sharpened', 'all-closed'])
    expect(reasons()).toContain(code)
})

it('says something to each picture', () => {
  expect(Object.keys(help.topics)).toEqual(helpTopics)
  expect(topicOf('glare')).toBe('light')
  expect(topicOf('no-such-ladder')).toBeUndefined()
})

it('has a picture for every failure of the place where things are kept and of the readers', () => {
  const files = ['storage/trouble.ts', 'storage/reading-jobs.ts', 'worker/photo-pool.ts']
  const found = files.flatMap((name) =>
    [
      ...readFileSync(join('server', name), 'utf8').matchAll(/(?:code: |because\(|ServiceError\(\d+, )'([a-z-]+)'/g),
    ].map(([, code = '']) => code),
  )
  for (const code of ['disk-full', 'database-full', 'database-away', 'ended-the-program', 'took-too-long', 'busy'])
    expect(found).toContain(code)
  expect(found.filter((code) => topicOf(code) === undefined)).toEqual([])
  for (const code of Object.values(serviceHelpCodes).flat()) expect(failures).toHaveProperty(code)
})

it('says each reason in German, with a headline and what to do', () => {
  const codes = Object.values(helpCodes).flat() as string[]
  expect(Object.keys(german).toSorted()).toEqual(codes.toSorted())
  for (const [code, [title, advice]] of Object.entries(german)) {
    expect(title, code).toMatch(/^[A-ZÄÖÜ].{3,45}$/)
    expect(title, code).not.toBe(codeTitle(code))
    expect(advice, code).toMatch(/^[A-ZÄÖÜ].+[.?]$/)
  }
})
