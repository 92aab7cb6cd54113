import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import type { Health } from '../../../server/api/health.js'
import { restoreBackup } from '../../../server/backup/restore-backup.js'
import { folderOfVersion, newestVersion } from '../../server/support/earlier-versions.js'
import { databaseRows, fileSums } from '../../server/support/database-rows.js'
import { letGo } from '../../server/support/let-go.js'
import { madeUpReading } from '../../server/support/made-up-reading.js'
import { uniformDraws } from '../../support/random.js'
import { audit, type Faults } from './audit.js'
import { customer, randomBytes, type Draw } from './customer.js'
import { asOf, Ledger } from './ledger.js'
import { startCommand, startService, type Victim } from './process.js'

export interface KillOptions {
  readonly kills: number
  readonly seed: number
  /** Photographs for the rounds in which they are really read. */
  readonly realPhotos: readonly string[]
  /** Share of the rounds in which they are. */
  readonly realShare: number
  /** All rounds of this kind, but for the first two. Default: drawn. */
  readonly only?: Moment
  /** Told a line after each kill. */
  readonly say?: (line: string) => void
}

export interface KillReport {
  /** Kills by what the process was doing. */
  readonly kills: Readonly<Record<Moment, number>>
  /** What was acknowledged in all, by kind. */
  readonly acknowledged: Readonly<Record<string, number>>
  /** What the starts after the kills had to put right, added up. */
  readonly putRight: Readonly<Record<string, number>>
  /** Backups that were there although their process or the service was killed; each was restored and compared. */
  readonly wholeBackups: number
  readonly faults: Faults
}

const CUSTOMERS = 3
const LONGEST_USE_MS = 700

export type Moment = 'use' | 'real reading' | 'start' | 'backup' | 'service during backup' | 'restore' | 'update'
const SHARES: readonly (readonly [number, Moment])[] = [
  [0.08, 'start'],
  [0.06, 'backup'],
  [0.05, 'service during backup'],
  [0.06, 'restore'],
  [0.08, 'update'],
  [1, 'use'],
]

/** Kills the service and its commands at random moments, and looks each time for what was lost. */
export async function runKills({ kills, seed, realPhotos, realShare, only, say }: KillOptions): Promise<KillReport> {
  const draw = uniformDraws(seed)
  const scratch = mkdtempSync(join(tmpdir(), 'stepglass-kill-'))
  const folder = join(scratch, 'data')
  const resultFile = join(scratch, 'result.json')
  writeFileSync(resultFile, JSON.stringify(madeUpReading))
  const ledgers = Array.from({ length: CUSTOMERS }, () => new Ledger())
  const count: Record<Moment, number> = {
    ...{ use: 0, 'real reading': 0, start: 0, backup: 0 },
    ...{ 'service during backup': 0, restore: 0, update: 0 },
  }
  const putRight: Record<string, number> = {}
  const faults: Faults = []
  let wholeBackups = 0
  let backups = 0
  let given = 0
  const sent: Uint8Array[][] = ledgers.map(() => [])
  let next = startService(resultFile)
  let real = startService(undefined)

  /** One that has loaded already; the following one loads meanwhile. */
  function take(reallyReads: boolean): Victim {
    const taken = reallyReads ? real : next
    if (reallyReads) real = startService(undefined)
    else next = startService(resultFile)
    return taken
  }

  /** Starts the service on what the last kill left, and looks at everything. */
  async function startAndAudit(reallyReads: boolean, everyFile = false) {
    const service = take(reallyReads)
    await service.line(/^loaded$/)
    service.tell(folder)
    const address = await service.line(/^http/)
    faults.push(...audit(folder, ledgers, { everyFile, started: true }))
    await letGo(folder)
    const { started } = (await (await fetch(`${address}/api/health`)).json()) as Health
    for (const [what, n] of Object.entries(started))
      if (typeof n === 'number') putRight[what] = (putRight[what] ?? 0) + n
    if (started.database !== 'sound' || started.missing.length > 0) faults.push(`start: ${JSON.stringify(started)}`)
    const users = ledgers.map((ledger, i) => customer(address, ledger, draw, photoOf(i, reallyReads)))
    await again(address, started.givenUp)
    await Promise.all(users.map((user) => user.sendAgain()))
    return { service, address, users }
  }

  /** Has read again what the service gave up, as somebody would. */
  async function again(address: string, givenUp: number): Promise<void> {
    if (givenUp === 0) return
    given += givenUp
    const { readings } = (await (await fetch(`${address}/api/readings?limit=100`)).json()) as {
      readings: { readingId: string; state: string }[]
    }
    for (const { readingId, state } of readings)
      if (state === 'failed') await fetch(`${address}/api/readings/${readingId}/again`, { method: 'POST' })
  }

  const photoOf = (i: number, reallyReads: boolean) => (draw: Draw) => {
    const before = sent[i] ?? []
    const old = draw() < 0.1 ? before[Math.floor(draw() * before.length)] : undefined
    const file = realPhotos[Math.floor(draw() * realPhotos.length)]
    const bytes = old ?? (reallyReads && file ? withTail(readFileSync(file), draw) : randomBytes(draw))
    if (!old) before.push(bytes)
    return bytes
  }

  /** Three customers use the service until something is killed; then the service is. */
  async function useUntil(session: Awaited<ReturnType<typeof startAndAudit>>, killed: () => Promise<void>) {
    const gone = new AbortController()
    const using = session.users.map((user) => user.use(gone.signal))
    const all = Promise.all(using)
    await Promise.race([killed(), all])
    gone.abort()
    await session.service.kill()
    await all
  }

  /** A backup is there whole or not at all: it is restored, and holds what was acknowledged before it began. */
  async function checkBackup(file: string, before: readonly Ledger[]): Promise<void> {
    const into = join(scratch, `restored-${backups}`)
    try {
      await restoreBackup(file, into)
      wholeBackups++
      const then = before.map((ledger, i) => asOf(ledgers[i] ?? ledger, ledger))
      faults.push(...audit(into, then, { everyFile: true, started: true }).map((fault) => `backup: ${fault}`))
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'ENOENT') faults.push(`backup: ${String(error)}`)
    }
    rmSync(into, { recursive: true, force: true })
    rmSync(file, { force: true })
  }

  const rounds: Record<Moment, () => Promise<void>> = {
    use: async () => useUntil(await startAndAudit(false), () => wait(draw() * LONGEST_USE_MS)),
    'real reading': async () => useUntil(await startAndAudit(true), () => wait(draw() * 6000)),
    start: async () => {
      const service = take(false)
      await service.line(/^loaded$/)
      service.tell(folder)
      await service.line(/^opening$/)
      await wait(draw() * 150)
      await service.kill()
    },
    backup: async () => {
      const session = await startAndAudit(false)
      const before = structuredClone(ledgers)
      const file = join(scratch, `backup-${++backups}.zip`)
      await useUntil(session, async () => {
        const command = startCommand('backup', file, '--data', folder)
        await wait(300 + draw() * 900)
        await command.kill()
      })
      await checkBackup(file, before)
    },
    'service during backup': async () => {
      const session = await startAndAudit(false)
      const before = structuredClone(ledgers)
      const file = join(scratch, `backup-${++backups}.zip`)
      const command = startCommand('backup', file, '--data', folder)
      await useUntil(session, () => wait(300 + draw() * 900))
      if ((await command.ended) !== 0) faults.push(`backup ended: ${command.errors()}`)
      await checkBackup(file, before)
    },
    restore: async () => {
      const session = await startAndAudit(false)
      await session.service.kill()
      const file = join(scratch, `backup-${++backups}.zip`)
      const into = join(scratch, `killed-${backups}`)
      const made = startCommand('backup', file, '--data', folder)
      if ((await made.ended) !== 0) faults.push(`backup ended: ${made.errors()}`)
      const command = startCommand('restore', file, '--into', into)
      await wait(300 + draw() * 900)
      await command.kill()
      const unfinished = startService(resultFile)
      await unfinished.line(/^loaded$/)
      unfinished.tell(into)
      const opened = await Promise.race([unfinished.line(/^http/), unfinished.ended.then(() => undefined)]).catch(
        () => undefined,
      )
      await unfinished.kill()
      // Either it was not there yet, or it is refused, or it is whole.
      const photos = opened === undefined ? [] : Object.keys(fileSums(join(into, 'photos')))
      if (photos.length > 0) faults.push(...audit(into, ledgers, { everyFile: true, started: true }))
      else {
        if (opened !== undefined) rmSync(into, { recursive: true })
        await restoreBackup(file, into)
        const differs = [
          ...differences(databaseRows(join(into, 'stepglass.sqlite')), databaseRows(join(folder, 'stepglass.sqlite'))),
          ...differences(fileSums(join(into, 'photos')), fileSums(join(folder, 'photos'))),
        ]
        if (differs.length > 0) faults.push(`restored is not what was backed up: ${differs.join(', ')}`)
        await letGo(folder)
      }
      rmSync(into, { recursive: true })
      rmSync(file)
    },
    update: async () => {
      const old = join(scratch, `old-${draw()}`)
      mkdirSync(old)
      const version = 1 + Math.floor(draw() * (newestVersion - 1))
      folderOfVersion(old, version)
      const before = databaseRows(join(old, 'stepglass.sqlite'))
      await letGo(old)
      const service = take(false)
      await service.line(/^loaded$/)
      service.tell(old)
      await service.line(/^opening$/)
      await wait(draw() * 120)
      await service.kill()
      const after = databaseRows(join(old, 'stepglass.sqlite')) as { version: { user_version: number } }
      const { user_version: reached } = after.version
      if (reached !== version && reached !== newestVersion) faults.push(`update: stopped at version ${reached}`)
      if (reached === version && JSON.stringify(after) !== JSON.stringify(before)) faults.push('update: rows changed')
      if (reached === newestVersion) {
        const copy = databaseRows(join(old, `before-version-${newestVersion}.sqlite`))
        if (JSON.stringify(copy) !== JSON.stringify(before)) faults.push('update: the copy is not what was')
      }
      rmSync(old, { recursive: true })
    },
  }

  try {
    for (let kill = 0; kill < kills; kill++) {
      const u = draw()
      let below = 0
      const drawn = only ?? SHARES.find(([share]) => u < (below += share))?.[1] ?? 'use'
      // The first rounds fill the folder.
      const moment = kill < 2 ? 'use' : drawn === 'use' && draw() < realShare ? 'real reading' : drawn
      await rounds[moment]()
      count[moment]++
      const acknowledged = ledgers.reduce((sum, { size }) => sum + size, 0)
      say?.(
        `${kill + 1}/${kills} ${moment}, ${acknowledged} acknowledged${faults.map((fault) => `\n  ${fault}`).join('')}`,
      )
    }
    const last = await startAndAudit(false)
    // Everything is read in the end.
    for (let waiting = 1; waiting > 0; await wait(100)) {
      const health = (await (await fetch(`${last.address}/api/health`)).json()) as Health
      waiting = health.readingsWaiting
    }
    await last.service.kill()
    const end = await startAndAudit(false, true)
    await end.service.kill()
    const open = ledgers.flatMap(({ photos, done }) =>
      [...photos.values()].filter(({ readingId }) => !done.has(readingId)),
    )
    if (open.length > 0) faults.push(`never read: ${open.length}`)
  } finally {
    await Promise.all([next.kill(), real.kill()])
    rmSync(scratch, { recursive: true, force: true })
  }
  const sum = (of: (ledger: Ledger) => number) => ledgers.reduce((total, ledger) => total + of(ledger), 0)
  return {
    kills: count,
    acknowledged: {
      uploads: sum(({ photos }) => photos.size),
      photographs: new Set(ledgers.flatMap(({ photos }) => [...photos.values()].map(({ photoId }) => photoId))).size,
      records: sum(({ records }) => records.size),
      changes: sum(({ records }) => [...records.values()].reduce((total, { changes }) => total + changes, 0)),
      ladders: sum(({ ladders }) => ladders.size),
      sheets: sum(({ sheets }) => sheets.size),
      leftOut: sum(({ leftOut }) => leftOut.size),
      keys: sum(({ knownKeys }) => knownKeys.size),
    },
    putRight: { ...putRight, readAgain: given },
    wholeBackups,
    faults,
  }
}

/** What two folders, or two databases, hold otherwise: names of files or tables, and the first of a table's rows. */
function differences(found: Readonly<Record<string, unknown>>, wanted: Readonly<Record<string, unknown>>): string[] {
  return [...new Set([...Object.keys(found), ...Object.keys(wanted)])].flatMap((name) => {
    const [own, other] = [found[name], wanted[name]].map((part) =>
      (Array.isArray(part) ? part : [part]).map((row) => JSON.stringify(row)),
    )
    const row = own!.find((text) => !other!.includes(text)) ?? other!.find((text) => !own!.includes(text))
    return row === undefined && own!.length === other!.length ? [] : [`${name}: ${row?.slice(0, 300)}`]
  })
}

/** A photograph that no other upload has: what follows the end of a JPEG is not looked at. */
function withTail(bytes: Uint8Array, draw: Draw): Uint8Array {
  return Buffer.concat([bytes, randomBytes(draw).subarray(0, 100)])
}
