import { defineConfig } from 'vite'

const server = `http://127.0.0.1:${process.env['PORT'] ?? '8080'}`

export default defineConfig({
  root: 'web',
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    rollupOptions: {
      input: ['web/index.html', 'web/sw.ts'],
      // A service worker keeps its address, for its updates are looked for there.
      output: { entryFileNames: ({ name }) => (name === 'sw' ? 'sw.js' : 'assets/[name]-[hash].js') },
    },
  },
  server: { proxy: { '/api': server, '/docs': server } },
})
