import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import { createServer, defineConfig, type Plugin } from 'vite'

const server = `http://127.0.0.1:${process.env['PORT'] ?? '8080'}`

/** The first view in a language, drawn by the page's own code. */
async function draw(language: string): Promise<string> {
  const alone = {
    configFile: false,
    root: 'web',
    appType: 'custom',
    logLevel: 'warn',
    cacheDir: '../.cache/first-view',
  } as const
  const server = await createServer({ ...alone, server: { middlewareMode: true, ws: false, hmr: false, watch: null } })
  const browser = { navigator: { languages: [language] }, window: { location: { hash: '' } } }
  for (const [name, value] of Object.entries(browser))
    Object.defineProperty(globalThis, name, { value, configurable: true, writable: true })
  try {
    const { firstView } = (await server.ssrLoadModule('/first-view.tsx')) as { firstView: () => string }
    return firstView()
  } finally {
    for (const name of Object.keys(browser)) Reflect.deleteProperty(globalThis, name)
    await server.close()
  }
}

/**
 * The page once a language, of which the service chooses one: with its first view drawn, so that one can use it before
 * the script has come, and asking for its words together with the script that needs them.
 */
const inEachLanguage = (): Plugin => ({
  name: 'in-each-language',
  apply: 'build',
  writeBundle: {
    sequential: true,
    async handler({ dir }, bundle) {
      const built = (source: string) => {
        const chunk = Object.values(bundle).find(
          (one) => one.type === 'chunk' && one.facadeModuleId?.endsWith(`/web/${source}`),
        )
        return chunk?.fileName ?? this.error(`nothing was built from ${source}`)
      }
      const page = readFileSync(join(dir!, 'index.html'), 'utf8')
      for (const language of ['en', 'de']) {
        const ahead = [
          `<script src="/${built('elsewhere.ts')}"></script>`,
          `<link rel="modulepreload" crossorigin href="/${built(`texts/${language}/start.ts`)}" />`,
        ]
        const drawn = page
          .replace('<html lang="en">', `<html lang="${language}">`)
          .replace('<script', `${ahead.join('\n    ')}\n    <script`)
          .replace('<div id="app">', `<div id="app">${await draw(language)}`)
        writeFileSync(join(dir!, `index.${language}.html`), drawn)
      }
    },
  },
})

/** Beside each text its compressed form. Browsers take no other than gzip over plain http, which the workshop's network has. */
const compressed = (): Plugin => ({
  name: 'compressed',
  apply: 'build',
  writeBundle: {
    sequential: true,
    handler({ dir }) {
      for (const name of readdirSync(dir!, { recursive: true, encoding: 'utf8' }).filter((one) =>
        /\.(js|css|html|svg)$/.test(one),
      ))
        writeFileSync(join(dir!, `${name}.gz`), gzipSync(readFileSync(join(dir!, name)), { level: 9 }))
    },
  },
})

const OF_THE_PAGE = /^(?!.*\/web\/(sw|elsewhere)\.ts$)/

export default defineConfig({
  plugins: [inEachLanguage(), compressed()],
  root: 'web',
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    // Browsers that know modules but not this load them all the same, a little later.
    modulePreload: { polyfill: false },
    rollupOptions: {
      input: ['web/index.html', 'web/sw.ts', 'web/elsewhere.ts'],
      // A service worker keeps its address, for its updates are looked for there.
      output: {
        entryFileNames: ({ name }) => (name === 'sw' ? 'sw.js' : 'assets/[name]-[hash].js'),
        // The first view in few files: each one more waits for its turn on a slow network.
        codeSplitting: {
          groups: [{ name: 'start', tags: ['$initial'], test: OF_THE_PAGE }],
        },
      },
    },
  },
  server: { proxy: { '/api': server, '/docs': server } },
})
