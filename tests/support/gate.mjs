// The whole gate behind `npm test`: every check runs even after one failed, so that one run names all that is wrong.
// Arguments go to vitest. What failed is left in .cache/ for the tally.
import { spawn } from 'node:child_process'
import { mkdirSync, rmSync, writeFileSync } from 'node:fs'
import { performance } from 'node:perf_hooks'

const checks = [
  ['lint', 'eslint .'],
  ['types', 'tsc -p tsconfig.json'],
  ['types of the interface', 'tsc -p web/tsconfig.json'],
  ['types of its tests', 'tsc -p tests/web/tsconfig.json'],
  ['format', 'prettier --check . --log-level warn --cache --cache-location .cache/prettier'],
  ['unused code and packages', 'knip'],
]
const vitest = 'vitest run --reporter=default --reporter=json --outputFile.json=.cache/vitest.json'

/** Resolves to the exit code and what was printed, with `stdio: 'inherit'` to nothing. */
function run(command, options) {
  const [program, ...args] = command.split(' ')
  const child = spawn(program, args.concat(options.args ?? []), { shell: process.platform === 'win32', ...options })
  let output = ''
  child.stdout?.on('data', (text) => (output += text))
  child.stderr?.on('data', (text) => (output += text))
  return new Promise((resolve, reject) => {
    child.once('error', reject)
    child.once('close', (code) => resolve({ code: code ?? 1, output }))
  })
}

const failed = []
async function check([name, command]) {
  const started = performance.now()
  const { code, output } = await run(command, { stdio: ['ignore', 'pipe', 'pipe'] })
  const seconds = ((performance.now() - started) / 1000).toFixed(1)
  console.log(`${code === 0 ? 'ok    ' : 'FAILED'} ${name} (${seconds} s)`)
  if (code === 0) return
  failed.push(name)
  console.log(output)
}

mkdirSync('.cache', { recursive: true })
rmSync('.cache/vitest.json', { force: true })
const waiting = [...checks]
const worker = async () => {
  for (let next = waiting.shift(); next; next = waiting.shift()) await check(next)
}
await Promise.all([worker(), worker()])

const tests = await run(vitest, { stdio: 'inherit', args: process.argv.slice(2) })
if (tests.code !== 0) failed.push('tests')
writeFileSync('.cache/gate.json', JSON.stringify({ failed }))
if (failed.length > 0) console.log(`Failed: ${failed.join(', ')}`)
process.exitCode = failed.length > 0 ? 1 : 0
