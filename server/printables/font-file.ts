import { createRequire } from 'node:module'

const require = createRequire(import.meta.url)

/** Path of a font that comes with the packages, so that no font of the machine is needed. */
export const fontFile = (name: `DejaVu${string}`): string => require.resolve(`dejavu-fonts-ttf/ttf/${name}.ttf`)
