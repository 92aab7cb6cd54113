import { spawnSync } from 'node:child_process'
import {
  chmodSync,
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs'
import { dirname, join, posix, resolve } from 'node:path'
import { DockerfileParser, type Cmd, type Copy, type Env, type From, type Healthcheck } from 'dockerfile-ast'
import { validate } from 'dockerfile-utils'
import { beforeAll, expect, it } from 'vitest'
import { Configuration, configurationFrom } from '../server/configuration.js'
import { runFile } from './server/support/child.js'
import { scratchFolder } from './server/support/service.js'

// No container can be built and no unit started here: what they name is held against the program instead, and what the
// image holds is started with its settings.

const packageJson = JSON.parse(readFileSync('package.json', 'utf8')) as { engines: { node: string } }
const needsNode = Number(/\d+/.exec(packageJson.engines.node)?.[0])
const { PORT, READERS, READER_MEMORY_MB } = configurationFrom({})
/** The source of a built program. */
const sourceOf = (program: string) => program.replace(/^dist\//, '').replace(/\.js$/, '.ts')

const text = readFileSync('deploy/Containerfile', 'utf8')
const containerfile = DockerfileParser.parse(text)
const [builds, runs] = containerfile.getFROMs() as [From, From]
const all = containerfile.getInstructions()
const lastStage = all.slice(all.indexOf(runs))
const inLastStage = <Kind>(keyword: string) =>
  lastStage.filter((instruction) => instruction.getKeyword() === keyword) as unknown as (Kind & (typeof all)[number])[]
const only = (keyword: string) => inLastStage(keyword).map((instruction) => instruction.getArgumentsContent())
/** What the image has set. */
const environment = Object.fromEntries(
  inLastStage<Env>('ENV').flatMap((env) =>
    env.getProperties().map((property) => [property.getName(), property.getValue()]),
  ),
) as Record<string, string>
const strings = (instruction: Cmd | Healthcheck | undefined) =>
  (instruction as Cmd).getJSONStrings().map((argument) => JSON.parse(argument.getValue()) as string)

it('has a container file that a builder takes, from the version of Node the program needs', () => {
  expect(validate(text)).toEqual([])
  for (const from of [builds, runs]) expect(Number.parseInt(from.getImageTag() ?? '', 10)).toBe(needsNode)
})

it('names in the container file what the program has: settings, port, folder, program, and nobody with all rights', () => {
  const { NODE_ENV: mode, ...settings } = environment
  expect(mode).toBe('production')
  expect(Object.keys(Configuration.properties)).toEqual(expect.arrayContaining(Object.keys(settings)))
  expect(configurationFrom({ ...settings, PASSPHRASE: 'correct horse' })).toMatchObject({ HOST: '0.0.0.0' })
  expect(only('EXPOSE')).toEqual([String(PORT)])
  expect(only('VOLUME')).toEqual([settings['DATA_FOLDER']])
  expect(only('USER')).toEqual(['node'])
  // Made before, so that the volume belongs to whom the service runs as.
  expect(only('RUN').join()).toContain(`mkdir ${settings['DATA_FOLDER']} && chown node:node ${settings['DATA_FOLDER']}`)
  expect(only('STOPSIGNAL')).toEqual(['SIGTERM'])
  const [node, program = ''] = strings(inLastStage<Cmd>('CMD')[0])
  expect([node, existsSync(sourceOf(program))]).toEqual(['node', true])
})

/** The unit's settings; what is set twice has both. */
const unit = new Map<string, string>()
for (const line of readFileSync('deploy/stepglass.service', 'utf8').split('\n')) {
  const [, name, value] = /^(\w+)=(.*)$/.exec(line) ?? []
  if (name !== undefined && value !== undefined) unit.set(name, [unit.get(name) ?? [], value].flat().join(' '))
}
const unitValue = (name: string) => unit.get(name) ?? ''

it('names in the service unit what the program has, and gives it no more than its own folder', () => {
  const [node, program = ''] = unitValue('ExecStart').split(' ')
  const folder = unitValue('WorkingDirectory')
  expect(node).toBe('/usr/bin/node')
  expect(existsSync(sourceOf(posix.relative(folder, program)))).toBe(true)

  const settings = new Map(
    unitValue('Environment')
      .split(' ')
      .map((pair) => pair.split('=') as [string, string]),
  )
  expect(Object.keys(Configuration.properties)).toEqual(expect.arrayContaining([...settings.keys()]))
  const others = Object.fromEntries([...settings].filter(([name]) => name !== 'PASSPHRASE_FILE'))
  expect(configurationFrom({ ...others, PASSPHRASE: 'correct horse' })).toMatchObject({ HOST: '0.0.0.0' })
  const [credential] = unitValue('LoadCredential').split(':')
  expect(settings.get('PASSPHRASE_FILE')).toBe(`%d/${credential}`)
  // Everything else is read-only, and there is no root.
  expect(unitValue('ProtectSystem')).toBe('strict')
  expect(settings.get('DATA_FOLDER')).toBe(`/var/lib/${unitValue('StateDirectory')}`)
  expect(unitValue('DynamicUser')).toBe('yes')
  // The service listens and reads its interfaces; JavaScript is compiled while it runs.
  for (const family of ['AF_INET', 'AF_INET6', 'AF_NETLINK'])
    expect(unitValue('RestrictAddressFamilies').split(' ')).toContain(family)
  expect(unit.has('MemoryDenyWriteExecute')).toBe(false)
  const mostGB = Number.parseInt(unitValue('MemoryMax'), 10)
  expect(mostGB).toBeGreaterThanOrEqual(1 + (READERS * READER_MEMORY_MB) / 1024)
})

it.skipIf(spawnSync('systemd-analyze', ['--version']).status !== 0)(
  'has a service unit that systemd takes and rates as well confined',
  () => {
    const verified = spawnSync('systemd-analyze', ['verify', 'deploy/stepglass.service'], { encoding: 'utf8' })
    // That there is no such program on this machine is all that may be said.
    const said = verified.stderr
      .split('\n')
      .filter((line) => line.includes('stepglass') && !line.includes('is not executable'))
    expect(said).toEqual([])
    const rated = ['security', '--offline=true', '--threshold=20', 'deploy/stepglass.service']
    const { status, stdout } = spawnSync('systemd-analyze', rated, { encoding: 'utf8' })
    expect([status, stdout.trim().split('\n').at(-1)]).toEqual([
      0,
      expect.stringMatching(/stepglass\.service: 1\.\d OK/),
    ])
  },
)

// The first call builds it when a source is newer than the last build.
beforeAll(() => void spawnSync(process.execPath, ['server/bin/stepglass.mjs', '--help']), 300_000)

it('serves from what the image holds alone, is found well by its check, and ends when told to', async () => {
  const app = scratchFolder()
  for (const copy of inLastStage<Copy>('COPY')) {
    expect(copy.getFromFlag()?.getValue()).toBe(builds.getBuildStage())
    const [from = '', to = ''] = copy.getArguments().map((argument) => argument.getValue())
    const source = posix.relative(lastStage.find((one) => one.getKeyword() === 'WORKDIR')!.getArgumentsContent()!, from)
    const target = join(app, to.endsWith('/') ? join(to, posix.basename(source)) : to === './' ? source : to)
    mkdirSync(dirname(target), { recursive: true })
    if (source === 'node_modules') symlinkSync(resolve(source), target)
    else cpSync(source, target, { recursive: true })
  }
  const filesNow = () =>
    readdirSync(app, { recursive: true, encoding: 'utf8' }).filter((name) => !name.startsWith('node_modules'))
  const before = filesNow()
  const data = scratchFolder()
  const passphraseFile = join(data, 'passphrase')
  writeFileSync(passphraseFile, 'correct horse\n')
  chmodSync(passphraseFile, 0o600)
  const settings = { ...environment, DATA_FOLDER: join(data, 'data'), PASSPHRASE_FILE: passphraseFile, PORT: '0' }
  const [, program = ''] = strings(inLastStage<Cmd>('CMD')[0])
  const service = runFile(new URL(`file://${app}/${program}`), [], settings)
  const [, port = ''] = await service.line(/^Stepglass is at http:\/\/\S+:(\d+)/)

  const [, ...check] = inLastStage<Healthcheck>('HEALTHCHECK')[0]!
    .getArguments()
    .map((argument) => argument.getValue())
  const command = JSON.parse(check.join(' ')) as string[]
  const checked = (PORT: string) =>
    spawnSync(process.execPath, command.slice(1), { env: { ...process.env, PORT } }).status
  expect([checked(port), checked('1')]).toEqual([0, 1])
  service.process.kill('SIGTERM')
  expect(await service.ended).toEqual([0, null])
  // It writes into its data folder only.
  expect(filesNow()).toEqual(before)
})
