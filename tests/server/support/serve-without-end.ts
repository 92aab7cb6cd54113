import { buildApp } from '../../../server/app.js'
import { endlessPool } from './pools.js'

// A service whose reader never comes to an end, in the data folder given as argument, or in DATABASE_URL.
const { DATABASE_URL: databaseUrl } = process.env
const app = await buildApp({
  dataFolder: process.argv[2] ?? '',
  ...(databaseUrl !== undefined && { databaseUrl }),
  pool: endlessPool(),
})
console.log(await app.listen({ port: 0, host: '127.0.0.1' }))
