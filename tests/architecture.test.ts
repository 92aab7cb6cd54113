import { spawnSync } from 'node:child_process'
import { copyFileSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join, resolve } from 'node:path'
import type { ICruiseResult } from 'dependency-cruiser'
import { afterAll, expect, it } from 'vitest'

const folders = ['analysis', 'server', 'web', 'tests']

/** Follows every import below `root` under this project's rules. */
function cruise(root: string, below: readonly string[]): ICruiseResult {
  const program = resolve('node_modules/.bin/depcruise')
  const args = ['--config', resolve('.dependency-cruiser.cjs'), '--output-type', 'json', ...below]
  const { stdout, stderr } = spawnSync(program, args, { cwd: root, encoding: 'utf8', maxBuffer: 1e9 })
  if (stderr) throw new Error(stderr)
  return JSON.parse(stdout) as ICruiseResult
}

const broken = ({ summary }: ICruiseResult) =>
  summary.violations.map(({ rule, from, to }) => `${rule.name}: ${from} -> ${to}`).sort()

it('lets imports run one way only: web, server, analysis', () => {
  const result = cruise('.', folders)
  expect(broken(result)).toEqual([])

  // With a compiler it does not know, dependency-cruiser sees no TypeScript and finds nothing wrong.
  const seen = new Set(result.modules.map(({ source }) => source))
  const sources = folders.flatMap((folder) =>
    readdirSync(folder, { recursive: true, encoding: 'utf8' })
      .filter((name) => /\.(tsx?|mjs)$/.test(name) && !name.endsWith('.d.ts'))
      .map((name) => `${folder}/${name}`),
  )
  expect(sources.filter((path) => !seen.has(path))).toEqual([])
})

const scratch = mkdtempSync(join(tmpdir(), 'stepglass-arrows-'))
afterAll(() => rmSync(scratch, { recursive: true }))

it('names every import that runs against the arrows', () => {
  const files = {
    'analysis/index.ts': "export * from './line.js'",
    'analysis/line.ts': "import type { Reply } from '../server/api/reply.js'\nexport type Line = Reply",
    'analysis/left.ts': "import { right } from './right.js'\nexport const left = () => right",
    'analysis/right.ts': "import { left } from './left.js'\nexport const right = () => left",
    'server/api/reply.ts': 'export interface Reply { a: number }\nexport const schema = {}',
    'node_modules/typebox/package.json': '{ "name": "typebox", "type": "module", "exports": "./index.mjs" }',
    'node_modules/typebox/index.mjs': 'export const Type = {}',
    'server/commands/measure.ts': "import { Type } from 'typebox'\nexport const name = Type.String()",
    'server/app.ts': "import { main } from '../web/main.js'\nexport * from '../analysis/line.js'\nexport { main }",
    'web/main.ts':
      "import { schema } from '../server/api/reply.js'\nimport type { Line } from '../analysis/index.js'\nexport const main: Line | typeof schema = schema",
    'web/fine.ts': "import type { Reply } from '../server/api/reply.js'\nexport type Fine = Reply",
  }
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(join(scratch, dirname(path)), { recursive: true })
    writeFileSync(join(scratch, path), text)
  }
  for (const name of ['tsconfig.json', 'tsconfig.base.json']) copyFileSync(name, join(scratch, name))

  expect(broken(cruise(scratch, ['analysis', 'server', 'web']))).toEqual([
    'analysis-has-one-door: server/app.ts -> analysis/line.ts',
    'analysis-stands-alone: analysis/line.ts -> server/api/reply.ts',
    'measure-starts-fast: server/commands/measure.ts -> node_modules/typebox/index.mjs',
    'no-circular: analysis/left.ts -> analysis/right.ts',
    'server-below-web: server/app.ts -> web/main.ts',
    'web-imports-types-only: web/main.ts -> server/api/reply.ts',
    'web-knows-the-api-only: web/main.ts -> analysis/index.ts',
  ])
})
