import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { ASSUMED } from '../../../analysis/index.js'
import { CAUTIONS } from '../../../server/finish/cautions.js'
import { finishSteps, STEP_NAMES } from '../../../server/finish/steps.js'
import { english } from '../../../server/finish/words/english.js'
import { german } from '../../../server/finish/words/german.js'

/** Cells of the table of a page of the docs, its head left out. */
const rowsOf = (path: string) =>
  readFileSync(path, 'utf8')
    .split('\n')
    .filter((line) => line.startsWith('|'))
    .slice(2)
    .map((line) => line.split('|').slice(1, -1))
    .map((cells) => cells.map((cell) => cell.trim().replaceAll('`', '')))

it('ties each caution to its row in the docs: words, steps, source, and no row without a caution', () => {
  const titles = (id: string) =>
    STEP_NAMES.filter((name) => (CAUTIONS[name] as readonly string[]).includes(id)).map(
      (name) => english.steps[name].title,
    )
  expect(rowsOf('docs/cautions.md')).toEqual(
    Object.entries(english.cautions).map(([id, { text, source }]) => [id, text, titles(id).join(', '), source]),
  )
})

it('leaves no caution without a step, and no source empty', () => {
  const used = new Set<string>(Object.values(CAUTIONS).flat())
  for (const [id, { source }] of Object.entries(english.cautions)) {
    expect(used, id).toContain(id)
    expect(source.length, id).toBeGreaterThan(15)
  }
})

it('lists every value the models take unless given, as they take it', () => {
  const shown = (value: number | readonly [number, number]) =>
    typeof value === 'number' ? String(value) : `${value[0]} to ${value[1]}`
  expect(rowsOf('docs/finishing.md')).toEqual(
    Object.entries(ASSUMED).map(([what, { value, unit, basis, source }]) => [
      what,
      [shown(value), ...(unit ? [unit] : [])].join(' '),
      basis,
      source,
    ]),
  )
})

it('says every sentence in both languages, with the same numbers', () => {
  const steps = (words: typeof german) => finishSteps(words).map(({ checks, waits }) => [checks, waits].flat().length)
  expect(steps(german)).toEqual(steps(english))
  const numbers = (text: string) => (text.match(/\d+(?:[.,]\d+)?/g) ?? []).map((one) => one.replace(',', '.')).sort()
  for (const [id, { text, source }] of Object.entries(english.cautions)) {
    const translated = german.cautions[id as keyof typeof german.cautions]
    expect(numbers(translated.text), id).toEqual(numbers(text))
    expect(numbers(translated.source), id).toEqual(numbers(source))
    expect(translated.text).not.toBe(text)
  }
})
