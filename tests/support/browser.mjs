// Finds the browser for the page tests and writes its path to .cache/browser. In this order: CHROMIUM_PATH,
// the build inside an npm package (Linux x64 only), one installed on the machine, Debian's package when run as root.
import { spawnSync } from 'node:child_process'
import { existsSync, mkdirSync, writeFileSync } from 'node:fs'
import { resolve } from 'node:path'

const works = (path) => existsSync(path) && spawnSync(path, ['--version'], { timeout: 20_000 }).status === 0

async function packagedBrowser() {
  if (process.platform !== 'linux' || process.arch !== 'x64') return undefined
  const folder = resolve('.cache/chromium')
  mkdirSync(folder, { recursive: true })
  process.env.TMPDIR = folder // the package unpacks into the temporary folder
  // Only where these say so does it unpack the shared libraries a bare machine lacks.
  process.env.AWS_LAMBDA_JS_RUNTIME = 'nodejs20.x'
  process.env.AWS_EXECUTION_ENV = 'AWS_Lambda_nodejs20.x'
  const { default: chromium } = await import('@sparticuz/chromium')
  const path = await chromium.executablePath()
  process.env.LD_LIBRARY_PATH = `${folder}/al2023/lib`
  return path
}

function debianBrowser() {
  if (process.getuid?.() !== 0 || !existsSync('/usr/bin/apt-get')) return undefined
  const install = 'apt-get update -qq && apt-get install -y --no-install-recommends chromium'
  spawnSync('sh', ['-c', install], { stdio: ['ignore', 2, 2] })
  return '/usr/bin/chromium'
}

async function findBrowser() {
  const named = process.env.CHROMIUM_PATH
  if (named) return named
  const installed = ['chromium', 'google-chrome', 'chromium-browser'].map((name) => `/usr/bin/${name}`)
  for (const find of [packagedBrowser, ...installed.map((path) => () => path), debianBrowser]) {
    const path = await find()
    if (path && works(path)) return path
  }
  throw new Error('No Chromium found for the page tests: set CHROMIUM_PATH to one')
}

mkdirSync('.cache', { recursive: true })
writeFileSync('.cache/browser', await findBrowser())
