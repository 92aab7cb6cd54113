import { expect, it } from 'vitest'

const parts = ['page', 'plan', 'compare', 'work', 'life', 'help', 'hand-on', 'finish', 'process'] as const

/** Every text of a part: where it stands, and how many arguments it takes. */
function shapeOf(texts: unknown, path = ''): string[] {
  if (typeof texts === 'function') return [`${path}(${texts.length})`]
  if (typeof texts !== 'object' || texts === null) return [path]
  return Object.entries(texts).flatMap(([key, value]) => shapeOf(value, `${path}.${key}`))
}

async function load(language: 'en' | 'de', part: (typeof parts)[number]): Promise<unknown> {
  const module = (await import(`../../web/texts/${language}/${part}.ts`)) as Record<string, unknown>
  return module[part.replace(/-(.)/, (_, letter: string) => letter.toUpperCase())]
}

it.each(parts)('has every text of "%s" in both languages', async (part) => {
  const [english, german] = [await load('en', part), await load('de', part)]
  expect(shapeOf(german)).toEqual(shapeOf(english))
  const empty = shapeOf(german).filter((path) => path === '')
  expect(empty).toEqual([])
})

it('translates instead of copying', async () => {
  const textsOf = (texts: unknown): string[] =>
    typeof texts === 'string'
      ? [texts]
      : typeof texts === 'object' && texts
        ? Object.values(texts).flatMap(textsOf)
        : []
  for (const part of parts) {
    const english = textsOf(await load('en', part))
    const german = textsOf(await load('de', part))
    // Sentences differ; single words, units and commands may be the same.
    const same = german.filter((text, i) => text === english[i] && text.split(' ').length > 4)
    expect(same.filter((text) => !text.startsWith('npx '))).toEqual([])
  }
})
