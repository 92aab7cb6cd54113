import { serve } from './serve.js'

const { PORT, HOST, DATA_FOLDER } = process.env

await serve({
  ...(PORT !== undefined && { port: Number(PORT) }),
  ...(HOST !== undefined && { host: HOST }),
  ...(DATA_FOLDER !== undefined && { dataFolder: DATA_FOLDER }),
}).catch((error: unknown) => {
  console.error(error instanceof Error ? error.message : error)
  process.exit(1)
})
