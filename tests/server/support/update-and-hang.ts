import { DatabaseSync } from '@photostructure/sqlite'
import { join } from 'node:path'
import { migrations } from '../../../server/storage/migrations.js'

// Takes the first of the steps that a database lacks, as an update does, and stops before it is committed.
const db = new DatabaseSync(join(process.argv[2] ?? '', 'stepglass.sqlite'))
const { user_version: version } = db.prepare('pragma user_version').get() as { user_version: number }
db.exec(`begin; ${migrations[version]}; pragma user_version = ${version + 1}`)
console.log('half way')
setInterval(() => undefined, 1000)
