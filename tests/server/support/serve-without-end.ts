import { buildApp } from '../../../server/app.js'
import { endlessPool } from './pools.js'

// A service whose reader never comes to an end, in the data folder given as argument.
const app = await buildApp({ dataFolder: process.argv[2] ?? '', pool: endlessPool() })
console.log(await app.listen({ port: 0, host: '127.0.0.1' }))
