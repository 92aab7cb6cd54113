// The service as it is built, in a process to be killed. It loads, waits to be told its data folder on standard input,
// and says when it begins to open it. With a file of a result as argument every photograph is read as that result, in a
// moment; without one it is read.
import { randomInt } from 'node:crypto'
import { once } from 'node:events'
import { readFile } from 'node:fs/promises'
import { createInterface } from 'node:readline'
import { setTimeout as wait } from 'node:timers/promises'
import { buildApp } from '../../../dist/server/app.js'

const [resultFile] = process.argv.slice(2)
const result = resultFile && JSON.parse(await readFile(resultFile, 'utf8'))
const quick = {
  readers: 2,
  read: async (_path, _options, onStage) => {
    onStage({ stage: 'decode', share: 0 })
    await wait(randomInt(5, 80))
    return result
  },
  makePicture: () => Promise.reject(new Error('nobody looks at pictures here')),
  extractSetting: async (path) => ({ from: 'json', json: await readFile(path, 'utf8') }),
  close: () => Promise.resolve(),
}

console.log('loaded')
const [dataFolder] = await once(createInterface(process.stdin), 'line')
console.log('opening')
const app = await buildApp({ dataFolder, ...(result && { pool: quick }) })
console.log(await app.listen({ port: 0, host: '127.0.0.1' }))
