import { generateKeyPairSync } from 'node:crypto'
import { spawnSync } from 'node:child_process'
import { copyFileSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { unzipSync } from 'fflate'
import sharp from 'sharp'
import { Compile } from 'typebox/schema'
import { Value } from 'typebox/value'
import { beforeAll, expect, it, vi } from 'vitest'
import { LadderReading, type ReadLadder } from '../../analysis/index.js'
import { ladderTooShort } from './support/drawn-ladder.js'
import { madeUpReading } from './support/made-up-reading.js'
import { scratchFolder } from './support/service.js'

const cli = resolve('server/bin/stepglass.mjs')

function stepglass(cwd: string, ...args: readonly string[]) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [cli, ...args], {
    cwd,
    encoding: 'utf8',
    maxBuffer: 1e8,
  })
  return { status, stdout, stderr }
}
const design = ['--id', 'K7Q2XN', '--layer-um', '50', '--pixel-um', '34', '--exposures', '1.6,2,2.5']

// Processes of their own take their time to start on a busy machine.
vi.setConfig({ testTimeout: 180_000 })

// The first call builds the program when a source is newer than the last build.
beforeAll(() => void stepglass('.', '--help'), 300_000)

it('explains itself, exit codes included', () => {
  const help = stepglass('.', '--help')
  expect(help.status).toBe(0)
  for (const command of [
    'measure',
    'card',
    'coupon',
    'kit',
    'layout',
    'schema',
    'plan',
    'layer-height',
    'working-curve',
    'lamp',
    'expect',
    'serve',
  ])
    expect(help.stdout).toMatch(new RegExp(`^  ${command} `, 'm'))
  for (const code of [0, 1, 2, 3]) expect(help.stdout).toMatch(new RegExp(`^  ${code}  \\w`, 'm'))

  const measure = stepglass('.', 'measure', '--help').stdout
  for (const option of [
    '--json',
    '--tolerance-um',
    '--time-step-s',
    '--smallest-line-um',
    '--smallest-space-um',
    '--profiles',
  ])
    expect(measure).toContain(option)
})

it.each([
  ['a file that is not there', ['measure', 'nowhere.jpg'], 'nowhere.jpg: there is no such file'],
  ['a folder', ['measure', '.'], '.: this is a folder'],
  ['no photograph', ['measure'], "missing required argument 'photo'"],
  ['an unknown command', ['mesure'], "unknown command 'mesure'"],
  ['an unknown option', ['measure', 'a.jpg', '--tolerance', '3'], "unknown option '--tolerance'"],
  ['a negative tolerance', ['measure', 'a.jpg', '--tolerance-um', '-1'], 'must be above zero'],
  ['a design out of range', ['layout', ...design, '--pixel-um', '500'], '--pixel-um must be <= 120'],
  ['an id out of shape', ['layout', ...design, '--id', 'k7'], '--id must match'],
  ['a slot the ladder does not have', ['coupon', ...design, '--slot', '4'], '--slot must be from 1 to 3'],
  ['a place it cannot write to', ['card', ...design, '-o', 'no/folder/card.pdf'], 'no/folder/card.pdf: there is no'],
])('ends with 1 and says on standard error what to do about %s', (_what, args, message) => {
  const { status, stdout, stderr } = stepglass(scratchFolder(), ...args)
  expect(status).toBe(1)
  expect(stdout).toBe('')
  expect(stderr).toContain(message)
  expect(stderr).not.toMatch(/^\s+at /m)
  expect(stderr.trimEnd().split('\n').length).toBeLessThanOrEqual(3)
})

it('ends with 2 when a photograph cannot be read, and says so in words and in JSON', async () => {
  const folder = scratchFolder()
  const grey = sharp({ create: { width: 1200, height: 900, channels: 3, background: '#888' } })
  await grey.jpeg().toFile(join(folder, 'desk.jpg'))
  writeFileSync(join(folder, 'note.txt'), 'no photograph')

  const words = stepglass(folder, 'measure', 'desk.jpg')
  expect(words).toMatchObject({
    status: 2,
    stderr: '',
    stdout: expect.stringMatching(/^desk\.jpg: not read\. \w/) as string,
  })

  const schema = Compile(JSON.parse(stepglass(folder, 'schema', 'reading').stdout) as object)
  const one = stepglass(folder, 'measure', '--json', 'note.txt')
  expect(one).toMatchObject({ status: 2, stderr: '' })
  expect(schema.Check(JSON.parse(one.stdout))).toBe(true)

  const several = stepglass(folder, 'measure', '--json', 'desk.jpg', 'note.txt')
  expect(several.status).toBe(2)
  const readings = JSON.parse(several.stdout) as unknown[]
  expect(readings).toHaveLength(2)
  for (const reading of readings) expect(schema.Check(reading)).toBe(true)
})

it('ends with 0 when a photograph gives a suggestion, with 3 when it is read and gives none', async () => {
  const folder = scratchFolder()
  // Simulated with zero growth at 2.74 s, see samples/README.md.
  copyFileSync('samples/demo-ladder.jpg', join(folder, 'good.jpg'))
  writeFileSync(join(folder, 'short.jpg'), await ladderTooShort())

  const good = stepglass(folder, 'measure', 'good.jpg')
  expect(good).toMatchObject({ status: 0, stderr: '' })
  expect(good.stdout).toMatch(/^good\.jpg: ladder \w{6}, .*\n\n {2}Suggested exposure {2}2\.[5-9] s, /)
  // A line a slot in each of two tables, of sizes and of clarity.
  expect(good.stdout.match(/^ {2}[1-6] {5}\d/gm)).toHaveLength(12)

  const both = stepglass(folder, 'measure', '--json', '--profiles', 'good.jpg', 'short.jpg')
  expect(both).toMatchObject({ status: 3, stderr: '' })
  const [first, second] = JSON.parse(both.stdout) as ReadLadder[]
  for (const reading of [first, second]) expect(Value.Errors(LadderReading, reading)).toEqual([])
  expect(second?.noSuggestion?.nextLadder.exposuresS.length).toBeGreaterThan(0)
  const gratings = first?.rungs.flatMap((rung) => ('refusal' in rung ? [] : rung.gratings)) ?? []
  expect(gratings.length).toBeGreaterThanOrEqual(6)
  for (const grating of gratings) expect(grating).toHaveProperty('profile')
})

it('prints schemas that take what follows them and nothing else', () => {
  const reading = Compile(JSON.parse(stepglass('.', 'schema').stdout) as object)
  expect(reading.Check(madeUpReading)).toBe(true)
  const { rungs: _rungs, ...incomplete } = madeUpReading
  expect(reading.Check(incomplete)).toBe(false)

  const layoutSchema = Compile(JSON.parse(stepglass('.', 'schema', 'layout').stdout) as object)
  const layout = JSON.parse(stepglass('.', 'layout', ...design).stdout) as Record<string, unknown>
  expect(layoutSchema.Check(layout)).toBe(true)
  expect(layoutSchema.Check({ ...layout, coupon: {} })).toBe(false)
  expect(JSON.parse(stepglass('.', 'layout', ...design, '--part', 'card').stdout)).toEqual(layout['card'])
})

it('writes a setting sheet and a label of a reading, and says what is in one', () => {
  const folder = scratchFolder()
  writeFileSync(join(folder, 'reading.json'), JSON.stringify(madeUpReading))
  const key = generateKeyPairSync('ed25519').privateKey.export({ type: 'pkcs8', format: 'pem' })
  writeFileSync(join(folder, 'key.pem'), key)
  const named = ['--resin', 'Lab mix 4', '--printer', 'North', '--simulated']
  expect(stepglass(folder, 'sheet', 'reading.json', ...named, '-o', 'a.pdf').stdout).toBe('a.pdf\n')
  const told = stepglass(folder, 'take-in', 'a.pdf').stdout
  expect(told).toContain('good for no resin')
  expect(told).toContain('Printer: North')
  expect(told).toContain('Not signed')

  const endless = stepglass(folder, 'sheet', 'reading.json', '--resin', 'x'.repeat(200), '-o', 'c.json')
  expect([endless.status, endless.stderr]).toEqual([1, expect.stringContaining('sheet/resin/name')])
  const rsa = generateKeyPairSync('rsa', { modulusLength: 2048 }).privateKey.export({ type: 'pkcs8', format: 'pem' })
  writeFileSync(join(folder, 'other.pem'), rsa)
  for (const wrong of ['reading.json', 'other.pem'])
    expect(stepglass(folder, 'sheet', 'reading.json', '--key', wrong, '-o', 'c.json')).toEqual({
      status: 1,
      stdout: '',
      stderr: `stepglass: ${wrong}: no Ed25519 private key as PEM; openssl genpkey -algorithm ed25519 makes one\n`,
    })
  expect(stepglass(folder, 'sheet', 'reading.json', '--key', 'key.pem', '-o', 'b.json').status).toBe(0)
  expect(stepglass(folder, 'take-in', 'b.json').stdout).toContain('Unchanged since it was signed')
  const edited = readFileSync(join(folder, 'b.json'), 'utf8').replace('"madeOn": "2', '"madeOn": "3')
  writeFileSync(join(folder, 'b.json'), edited)
  const refused = stepglass(folder, 'take-in', 'b.json')
  expect([refused.status, refused.stderr]).toEqual([1, expect.stringContaining('Changed after it was signed')])
  expect(stepglass(folder, 'sheet', 'reading.json', '--label', '50x25', '-o', 'label.pdf').status).toBe(0)
  expect(readFileSync(join(folder, 'label.pdf'), 'latin1')).toMatch(/^%PDF-/)
})

it('writes card, coupons and kit under names that tell the ladder', () => {
  const folder = scratchFolder()
  const card = stepglass(folder, 'card', ...design)
  expect(card).toEqual({ status: 0, stdout: 'stepglass-K7Q2XN-card-a4.pdf\n', stderr: '' })
  expect(readFileSync(join(folder, 'stepglass-K7Q2XN-card-a4.pdf'), 'latin1')).toMatch(/^%PDF-/)

  expect(stepglass(folder, 'card', ...design, '--format', 'svg', '-o', '-').stdout).toMatch(/^<svg /)

  expect(stepglass(folder, 'coupon', ...design, '--format', 'stl', '-o', 'coupons').status).toBe(0)
  expect(readdirSync(join(folder, 'coupons')).sort()).toEqual([
    'K7Q2XN-rung-1-1.6s.stl',
    'K7Q2XN-rung-2-2s.stl',
    'K7Q2XN-rung-3-2.5s.stl',
  ])

  expect(stepglass(folder, 'kit', ...design, '-o', 'all.zip')).toEqual({ status: 0, stdout: 'all.zip\n', stderr: '' })
  expect(Object.keys(unzipSync(readFileSync(join(folder, 'all.zip')))).length).toBeGreaterThan(6)
})

it('makes up a name for a ladder that has none and tells it on standard error', () => {
  const args = ['layout', '--layer-um', '50', '--pixel-um', '34', '--exposures', '2']
  const { stdout, stderr } = stepglass('.', ...args)
  const { ladderId } = (JSON.parse(stdout) as { design: { ladderId: string } }).design
  expect(ladderId).toMatch(/^[0-9AC-HJ-NP-RTV-Y]{6}$/)
  expect(stderr).toContain(`--id ${ladderId}`)
})

it('answers questions of planning in words or as JSON, and says what is missing', () => {
  const plan = stepglass('.', 'plan', '--layer-um', '50')
  expect(plan.status, plan.stderr).toBe(0)
  expect(plan.stdout).toContain('nothing is known')
  const known = ['--from-um', '50', '--exposure-s', '2', '--dp-um', '300', '--dp-interval-um', '300,300', '--json']
  const layer = stepglass('.', 'layer-height', '--to-um', '30', ...known)
  // Ratio of the layer-transfer table: 0.935507.
  expect((JSON.parse(layer.stdout) as { bond: { exposureS: number } }).bond.exposureS).toBeCloseTo(1.871, 3)
  const nothing = stepglass('.', 'layer-height', '--to-um', '30')
  expect([nothing.status, nothing.stderr]).toEqual([1, 'stepglass: give a reading, or --from-um and --exposure-s\n'])
  expect(stepglass('.', 'plan', '--layer-um', '50', '--dp-um', '260').stderr).toContain('--ec-mj')

  const folder = scratchFolder()
  const table = join(folder, 'curve.csv')
  writeFileSync(table, '5;37\n10;118\n20;205\n40;298\n80;385\n')
  const curve = stepglass('.', 'working-curve', table)
  expect(curve.status, curve.stderr).toBe(0)
  expect(curve.stdout).toMatch(/^Penetration depth +12\d µm/)
  writeFileSync(table, 'nothing')
  expect(stepglass('.', 'working-curve', table).status).toBe(3)

  const reading = join(folder, 'reading.json')
  writeFileSync(reading, JSON.stringify(madeUpReading))
  const expected = stepglass('.', 'expect', reading, '--exposure-s', '2')
  expect([expected.status, expected.stdout]).toEqual([3, expect.stringContaining('[too-few-rungs') as string])
  expect(stepglass('.', 'expect', table, '--exposure-s', '2').stderr).toContain('measure PHOTO --json')
})
