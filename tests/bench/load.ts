// npx tsx tests/bench/load.ts [soak seconds]: fifty people upload at once, pages are looked at meanwhile, then a soak.
import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { availableParallelism, loadavg, tmpdir } from 'node:os'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { setTimeout as wait } from 'node:timers/promises'
import { mean, median, quantile } from 'simple-statistics'
import type { PhotoAccepted, ReadingReply } from '../../server/api/readings.js'

const PEOPLE = 50
const PLACES = 40
const WARM_UP = 10
const CORES = availableParallelism()
const soakS = Number(process.argv[2] ?? 180)
const photo = readFileSync('samples/demo-ladder-phone.jpg')

const dataFolder = mkdtempSync(join(tmpdir(), 'stepglass-load-'))
const service = spawn(process.execPath, ['dist/server/main.js'], {
  env: { ...process.env, PORT: '0', DATA_FOLDER: dataFolder, READERS: String(CORES), MAX_WAITING: String(PLACES) },
  stdio: ['ignore', 'pipe', 'inherit'],
})
async function started(): Promise<string> {
  for await (const line of createInterface({ input: service.stdout })) {
    const address = /^Stepglass is at (.*)$/.exec(line)?.[1]
    if (address !== undefined) return address
  }
  throw new Error('the service did not start')
}
const address = await started()
const get = async <Reply>(path: string) => (await (await fetch(`${address}${path}`)).json()) as Reply

let made = 0
/** A photograph that the service has not seen: the bytes behind its end differ. */
function newPhoto(): FormData {
  const form = new FormData()
  form.set('photo', new Blob([photo, `${process.pid} ${made++}`]), 'bench.jpg')
  return form
}

interface Upload {
  readonly accepted: PhotoAccepted
  readonly acceptedAt: number
  readonly acknowledgedS: number
  readonly turnedAway: number
}

/** Sends one photograph, again when the service says so. */
async function upload(): Promise<Upload> {
  const form = newPhoto()
  for (let turnedAway = 0; ; turnedAway++) {
    const sent = performance.now()
    const reply = await fetch(`${address}/api/photos`, { method: 'POST', body: form })
    if (reply.status === 202) {
      const acknowledgedS = (performance.now() - sent) / 1000
      return { accepted: (await reply.json()) as PhotoAccepted, acceptedAt: Date.now(), acknowledgedS, turnedAway }
    }
    await reply.arrayBuffer()
    if (reply.status !== 429) throw new Error(`an upload was answered ${reply.status}`)
    await wait(1000 * Number(reply.headers.get('retry-after')))
  }
}

const waiting = async () => (await get<{ waiting: number }>('/api/now')).waiting
const say = (line: string) => console.log(line)
const seconds = (values: number[]) => `${median(values).toFixed(1)} s (95 %: ${quantile(values, 0.95).toFixed(1)} s)`

async function lookAtPages(until: AbortSignal): Promise<number[]> {
  const tookMs: number[] = []
  const [first] = (await get<{ readings: { readingId: string }[] }>('/api/readings?limit=1')).readings
  const pages = [
    '/api/now',
    '/api/readings?limit=50',
    '/api/ladders?limit=50',
    '/api/bottles',
    `/api/readings/${first?.readingId}`,
  ]
  for (let i = 0; !until.aborted; i++) {
    const asked = performance.now()
    await (await fetch(`${address}${pages[i % pages.length]}`)).arrayBuffer()
    tookMs.push(performance.now() - asked)
    await wait(50)
  }
  return tookMs
}

async function fiftyAtOnce(): Promise<void> {
  const done = new AbortController()
  const looking = lookAtPages(done.signal)
  const from = performance.now()
  const uploads = await Promise.all(Array.from({ length: PEOPLE }, upload))
  while ((await waiting()) > 0) await wait(500)
  const tookS = (performance.now() - from) / 1000
  done.abort()
  const pagesMs = await looking
  const errorsS: number[] = []
  for (const { accepted, acceptedAt } of uploads) {
    const { finishedAt = '', state } = await get<ReadingReply>(`/api/readings/${accepted.readingId}`)
    if (state !== 'done') throw new Error(`a reading is ${state}`)
    if (accepted.waiting) errorsS.push((Date.parse(finishedAt) - acceptedAt) / 1000 - accepted.waiting.estimatedS)
  }
  const away = uploads.filter(({ turnedAway }) => turnedAway > 0).length
  say(
    `After ${WARM_UP} photographs, ${PEOPLE} uploads at once, ${PLACES} places, ${CORES} readers: all read in ${tookS.toFixed(0)} s`,
  )
  say(
    `  acknowledged after ${seconds(uploads.map(({ acknowledgedS }) => acknowledgedS))}; ${away} were first told when to try again`,
  )
  say(
    `  told time against time taken: ${mean(errorsS).toFixed(1)} s late on average, off by ${seconds(errorsS.map(Math.abs))}`,
  )
  say(
    `  data of a page meanwhile: median ${median(pagesMs).toFixed(0)} ms, 95 % within ${quantile(pagesMs, 0.95).toFixed(0)} ms, ${pagesMs.length} asked`,
  )
  say(`  ${((PEOPLE / (tookS * CORES)) * 3600).toFixed(0)} photographs per core and hour`)
}

/** Memory of the service, and of all processes it started, in MB. */
function memoryMb(): { readonly service: number; readonly readers: number } {
  const status = (pid: string) => {
    try {
      return readFileSync(`/proc/${pid}/status`, 'utf8')
    } catch {
      return ''
    }
  }
  const rss = (text: string) => Number(/^VmRSS:\s*(\d+)/m.exec(text)?.[1] ?? 0) / 1024
  const children = readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .map(status)
    .filter((text) => new RegExp(`^PPid:\\s*${service.pid}$`, 'm').test(text))
  return { service: rss(status(String(service.pid))), readers: children.reduce((sum, text) => sum + rss(text), 0) }
}

async function soak(): Promise<void> {
  const until = performance.now() + soakS * 1000
  const samples: ReturnType<typeof memoryMb>[] = []
  let read = 0
  while (performance.now() < until) {
    if ((await waiting()) < 2 * CORES) {
      await upload()
      read++
    } else await wait(200)
    samples.push(memoryMb())
  }
  const third = Math.floor(samples.length / 3)
  const part = (of: 'service' | 'readers', from: number) =>
    median(samples.slice(from, from + third).map((one) => one[of]))
  say(`${soakS} s of reading without a pause, ${read} photographs`)
  for (const of of ['service', 'readers'] as const)
    say(
      `  memory of the ${of}: ${part(of, 0).toFixed(0)} MB in the first third, ${part(of, 2 * third).toFixed(0)} MB in the last`,
    )
}

say(`${CORES} cores, load ${loadavg()[0]?.toFixed(1)} at the start`)
try {
  // As in a service that has been at work: the first readings of a new process take longer, and so would be foretold.
  for (let i = 0; i < WARM_UP; i++) await upload()
  while ((await waiting()) > 0) await wait(200)
  await fiftyAtOnce()
  await soak()
} finally {
  service.kill('SIGTERM')
  await once(service, 'exit')
  rmSync(dataFolder, { recursive: true })
}
