import { configurationFrom } from './configuration.js'
import { serve } from './serve.js'
import { endWith } from './usage-error.js'

await Promise.resolve(process.env).then(configurationFrom).then(serve).catch(endWith)
