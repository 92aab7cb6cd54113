// Makes a bare clone ready, with nothing but Node and npm: installs the packages and builds, each only when needed.
import { spawnSync } from 'node:child_process'
import { existsSync, readFileSync, readdirSync, statSync, utimesSync, writeFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('../../', import.meta.url))
const at = (path) => `${root}${path}`
const buildStamp = at('dist/.built')
const buildInputs = [
  'analysis',
  'server',
  'web',
  'package-lock.json',
  'tsconfig.base.json',
  'tsconfig.build.json',
  'vite.analysis.config.ts',
]

/** Runs npm in the checkout. Its words go to the error stream, so that a command's own output stays clean. */
function npm(...args) {
  const windows = process.platform === 'win32'
  const { status } = spawnSync('npm', args, { cwd: root, stdio: ['ignore', 2, 2], shell: windows })
  if (status !== 0) throw new Error(`npm ${args.join(' ')} failed`)
}

/** npm keeps a copy of the lock file beside what it installed; it lacks only what other systems would need. */
function packagesAreCurrent() {
  const installed = at('node_modules/.package-lock.json')
  if (!existsSync(installed)) return false
  const read = (path) => JSON.parse(readFileSync(path, 'utf8')).packages
  const have = read(installed)
  return Object.entries(read(at('package-lock.json'))).every(
    ([path, want]) => path === '' || (want.optional && !have[path]) || have[path]?.version === want.version,
  )
}

function newestChangeMs(path) {
  const own = statSync(path)
  if (!own.isDirectory()) return own.mtimeMs
  // A folder's own time moves when a file in it is added or removed.
  return Math.max(
    own.mtimeMs,
    ...readdirSync(path, { recursive: true }).map((name) => statSync(`${path}/${name}`).mtimeMs),
  )
}

function buildIsCurrent() {
  if (!existsSync(buildStamp)) return false
  const builtMs = statSync(buildStamp).mtimeMs
  return buildInputs.every((path) => newestChangeMs(at(path)) <= builtMs)
}

function build() {
  const started = new Date()
  npm('run', '--silent', 'build')
  writeFileSync(buildStamp, '')
  // What changes while the build runs must look newer than the build.
  utimesSync(buildStamp, started, started)
}

/** Installs the pinned packages when the lock file moved on, and builds when a source is newer than the last build. */
export function ready() {
  if (!packagesAreCurrent()) npm('ci', '--include=dev', '--no-audit', '--no-fund')
  if (!buildIsCurrent()) build()
}

if (process.argv[1] === fileURLToPath(import.meta.url)) ready()
