import { defineConfig } from 'vite'

// Over `dist/analysis/index.js` that tsc left: one file with its small libraries. Looking up their some 400 files is a
// third of a cold start of the command line.
export default defineConfig({
  build: { ssr: 'analysis/index.ts', outDir: 'dist/analysis', emptyOutDir: false, target: 'node20' },
  ssr: {
    noExternal: true,
    // They bring native code or WebAssembly files of their own.
    external: ['sharp', 'opencv-wasm', 'zxing-wasm', 'heic-decode'],
  },
})
