import { fileURLToPath } from 'node:url'

/** The checkout, seen from the sources or from the build in dist/. */
const root = fileURLToPath(new URL(import.meta.url.endsWith('.ts') ? '../' : '../../', import.meta.url))

export const WEB_FOLDER = `${root}dist/web`
export const DEMO_PHOTO = `${root}samples/demo-ladder.jpg`
export const DATA_FOLDER = `${root}data`
