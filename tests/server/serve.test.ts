import { spawnSync } from 'node:child_process'
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { beforeAll, expect, it, vi } from 'vitest'
import type { PhotoAccepted, ReadingList } from '../../server/api/readings.js'
import { readDemo } from '../../server/demo.js'
import { runFile } from './support/child.js'
import { plainPhoto, scratchFolder, startService } from './support/service.js'

// Processes of their own take their time to start on a busy machine.
vi.setConfig({ testTimeout: 180_000 })

// What `npm start` runs; the first call builds it when a source is newer than the last build.
const main = new URL('../../dist/server/main.js', import.meta.url)
beforeAll(() => void spawnSync(process.execPath, ['server/bin/stepglass.mjs', '--help']), 300_000)

/** A data folder with a reading in it, so that no demo comes first. */
async function usedFolder(): Promise<string> {
  const service = await startService()
  await service.ended((await service.upload(await plainPhoto())).json<PhotoAccepted>())
  await service.app.close()
  return service.dataFolder
}

it('says where it is, and ends cleanly when asked to', async () => {
  const child = runFile(main, [], { PORT: '0', DATA_FOLDER: await usedFolder() })
  const [, address] = await child.line(/^Stepglass is at (http:\/\/127\.0\.0\.1:\d+)$/)
  const health = await fetch(`${address}/api/health`)
  expect(health.status).toBe(200)
  child.process.kill('SIGTERM')
  expect(await child.ended).toEqual([0, null])
  expect(child.errors()).toBe('')
})

it('says in one line that a port is taken', async () => {
  const { app } = await startService()
  const { port } = new URL(await app.listen({ port: 0, host: '127.0.0.1' }))
  const child = runFile(main, [], { PORT: port, DATA_FOLDER: await usedFolder() })
  expect((await child.ended)[0]).toBe(1)
  expect(child.errors()).toBe(`stepglass: Port ${port} is taken. Choose another one, or stop what listens there.\n`)
})

it('opens to the network only with a passphrase, which it never prints', async () => {
  const open = async (passphrase: string) =>
    runFile(main, [], { PORT: '0', HOST: '0.0.0.0', PASSPHRASE: passphrase, DATA_FOLDER: await usedFolder() })
  const child = await open('clear as glass')
  const [, port] = await child.line(/^Stepglass is at http:\/\/.*:(\d+)$/)
  await child.line(/^It asks for the passphrase that was set\.$/)
  const ask = (headers = {}) => fetch(`http://127.0.0.1:${port}/api/now`, { headers })
  expect((await ask()).status).toBe(401)
  const authorization = `Basic ${Buffer.from('me:clear as glass').toString('base64')}`
  expect((await ask({ authorization })).status).toBe(200)
  child.process.kill('SIGTERM')
  expect((await child.ended)[0]).toBe(0)
  // Where a log may keep what is printed, no secret is.
  expect(child.output() + child.errors()).not.toContain('clear as glass')

  const short = await open('glass')
  expect((await short.ended)[0]).toBe(1)
  expect(short.errors()).toMatch(/^stepglass: The configuration cannot be used: PASSPHRASE must .*8 characters\.\n$/)
  const none = await open('')
  expect((await none.ended)[0]).toBe(1)
  expect(none.errors()).toMatch(/set PASSPHRASE/)
})

it('reads the demo on the first start only, shows its progress and answer, and marks it as simulated', async () => {
  const { app, get } = await startService()
  const photo = join(scratchFolder(), 'demo-ladder.png')
  writeFileSync(photo, await plainPhoto())
  const lines: string[] = []
  const say = (line: string) => void lines.push(line)

  await readDemo(app.service, photo, say)
  expect(lines[0]).toBe('Reading demo-ladder.png, a simulated photograph of a printed ladder:')
  expect(lines).toContain('    0 %  decode')
  expect(lines.at(-1)).toContain('Suggested exposure  2 s')
  const { readings } = (await get('/api/readings')).json<ReadingList>()
  expect(readings).toMatchObject([{ simulated: true, photoName: 'demo-ladder.png', state: 'done' }])

  const told = lines.length
  await readDemo(app.service, photo, say)
  expect(lines).toHaveLength(told)
})

it('starts without a demo when there is none', async () => {
  const { app, get } = await startService()
  await readDemo(app.service, '/nowhere/demo.jpg', () => undefined)
  expect((await get('/api/readings')).json<ReadingList>().total).toBe(0)
})
