import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import type { ReadingList } from '../../server/api/readings.js'
import { readDemo } from '../../server/demo.js'
import { runFile } from './support/child.js'
import { plainPhoto, scratchFolder, startService } from './support/service.js'

it('says where it is, and ends cleanly when asked to, even while a browser follows a reading', async () => {
  const child = runFile('server/main.ts', [], { PORT: '0', DATA_FOLDER: scratchFolder() })
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
  const child = runFile('server/main.ts', [], { PORT: port, DATA_FOLDER: scratchFolder() })
  expect((await child.ended)[0]).toBe(1)
  expect(child.errors()).toBe(`Port ${port} is taken. Choose another one, or stop what listens there.\n`)
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
