import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import { defineConfig, type Plugin } from 'vite'

const server = `http://127.0.0.1:${process.env['PORT'] ?? '8080'}`

/** Beside each text its compressed form. Browsers take no other than gzip over plain http, which the workshop's network has. */
const compressed = (): Plugin => ({
  name: 'compressed',
  apply: 'build',
  writeBundle({ dir }) {
    for (const name of readdirSync(dir!, { recursive: true, encoding: 'utf8' }).filter((one) =>
      /\.(js|css|html|svg)$/.test(one),
    ))
      writeFileSync(join(dir!, `${name}.gz`), gzipSync(readFileSync(join(dir!, name)), { level: 9 }))
  },
})

const NOT_THE_WORKER = /^(?!.*\/web\/sw\.ts$)/

export default defineConfig({
  plugins: [compressed()],
  root: 'web',
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    rollupOptions: {
      input: ['web/index.html', 'web/sw.ts'],
      // A service worker keeps its address, for its updates are looked for there.
      output: {
        entryFileNames: ({ name }) => (name === 'sw' ? 'sw.js' : 'assets/[name]-[hash].js'),
        // The first view in few files: each one more waits for its turn on a slow network.
        codeSplitting: {
          groups: [{ name: 'start', tags: ['$initial'], test: NOT_THE_WORKER }],
        },
      },
    },
  },
  server: { proxy: { '/api': server, '/docs': server } },
})
