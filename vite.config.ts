import { defineConfig } from 'vite'

const server = `http://127.0.0.1:${process.env['PORT'] ?? '8080'}`

export default defineConfig({
  root: 'web',
  build: { outDir: '../dist/web', emptyOutDir: true },
  server: { proxy: { '/api': server, '/docs': server } },
})
