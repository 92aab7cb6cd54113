import { readFileSync } from 'node:fs'
import { resolve } from 'node:path'
import { chromium, type Browser } from 'playwright-core'

/** Starts the browser that `npm test` found; the caller closes it. */
export function openBrowser(): Promise<Browser> {
  return chromium.launch({
    executablePath: readFileSync('.cache/browser', 'utf8'),
    args: [
      '--no-sandbox',
      '--disable-quic',
      '--use-gl=angle',
      '--use-angle=swiftshader',
      '--enable-unsafe-swiftshader',
    ],
    env: { ...process.env, LD_LIBRARY_PATH: resolve('.cache/chromium/al2023/lib') },
  })
}
