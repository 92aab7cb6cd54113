import { serve } from './serve.js'
import { endWith } from './usage-error.js'

const { PORT, HOST, PASSPHRASE, DATA_FOLDER } = process.env

await serve({
  ...(PORT !== undefined && { port: Number(PORT) }),
  ...(HOST !== undefined && { host: HOST }),
  ...(PASSPHRASE !== undefined && { passphrase: PASSPHRASE }),
  ...(DATA_FOLDER !== undefined && { dataFolder: DATA_FOLDER }),
}).catch(endWith)
