import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { measureLadder } from '../analysis/index.js'
import { readingReport } from '../server/report/reading-report.js'

const root = join(import.meta.dirname, '..')
const readme = readFileSync(join(root, 'README.md'), 'utf8')

it("the README's worked ladder is what the program says of it", async () => {
  const reading = await measureLadder(readFileSync(join(root, 'samples/demo-ladder.jpg')))
  const [, block = ''] = /```text\n([\s\S]*?)```/.exec(readme) ?? []
  expect(block.trim()).toBe(readingReport('samples/demo-ladder.jpg', reading).trim())
})

it("the README's commands exist", () => {
  const { scripts } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as {
    scripts: Record<string, string>
  }
  for (const [, script = ''] of readme.matchAll(/npm (?:run )?(start|test|[a-z]+)\b/g))
    expect(Object.keys(scripts)).toContain(script)
})
