import { networkInterfaces } from 'node:os'
import { toString as drawQrCode } from 'qrcode'
import { buildApp } from './app.js'
import type { Configuration } from './configuration.js'
import { readDemo } from './demo.js'
import { loggerFor } from './logging.js'
import { randomName } from './random-name.js'
import { DEMO_PHOTO, WEB_FOLDER } from './paths.js'
import { isLoopback } from './plugins/safety.js'
import { startLines } from './storage/start-lines.js'
import { UsageError } from './usage-error.js'
import { openPhotoPool } from './worker/photo-pool.js'

const PASSPHRASE_LENGTH = 10
const say = (line: string) => console.log(line)

/** The addresses at which other machines reach this one. */
const networkAddresses = (host: string, port: string): string[] =>
  Object.values(networkInterfaces())
    .flatMap((addresses) => addresses ?? [])
    .filter(
      ({ family, internal, address }) => family === 'IPv4' && !internal && ['0.0.0.0', '::', address].includes(host),
    )
    .map(({ address }) => `http://${address}:${port}`)

/** What is entered on other machines: what was set, or one made up, which only a terminal may show. */
function passphraseFor({ HOST, PASSPHRASE }: Configuration): string | undefined {
  if (PASSPHRASE !== undefined) return PASSPHRASE
  if (isLoopback(HOST)) return undefined
  if (process.stdout.isTTY) return randomName(PASSPHRASE_LENGTH)
  throw new UsageError(
    `To open the service to the network as ${HOST}, set PASSPHRASE or PASSPHRASE_FILE: one made up here would end in a log.`,
  )
}

/** For the phone: the address as a code, and what to enter there. */
async function invite(addresses: readonly string[], madeUp: string | undefined): Promise<void> {
  for (const address of addresses) {
    say(`\nFor other machines and phones in this network: ${address}`)
    say(await drawQrCode(address, { type: 'utf8' }))
  }
  say(madeUp === undefined ? 'It asks for the passphrase that was set.' : `Passphrase: ${madeUp}`)
  say('It crosses the network unencrypted: open the service only in a network you trust, or behind https.')
}

/** Starts the service and stops it cleanly when the process is asked to end. */
export async function serve(configuration: Configuration): Promise<void> {
  const { PORT, HOST, PASSPHRASE, DATA_FOLDER, READERS, READER_MEMORY_MB, READING_LIMIT_S } = configuration
  const { MAX_WAITING, TRUSTED_PROXY, DATABASE_URL } = configuration
  const passphrase = passphraseFor(configuration)
  let listensAt = PORT
  const addresses = () => networkAddresses(HOST, String(listensAt))
  const app = await buildApp({
    dataFolder: DATA_FOLDER,
    webFolder: WEB_FOLDER,
    ...(DATABASE_URL !== undefined && { databaseUrl: DATABASE_URL, sharing: { reads: READERS > 0 } }),
    pool: openPhotoPool({ readers: READERS, memoryMb: READER_MEMORY_MB, timeLimitMs: READING_LIMIT_S * 1000 }),
    maxWaiting: MAX_WAITING,
    ...(TRUSTED_PROXY !== undefined && { trustProxy: TRUSTED_PROXY }),
    ...(passphrase !== undefined && { passphrase, addresses }),
    logger: loggerFor(configuration.LOG_LEVEL),
  })
  for (const line of startLines(app.service.store.started)) say(line)
  let stopping = false
  for (const signal of ['SIGINT', 'SIGTERM'] as const)
    process.once(signal, () => {
      stopping = true
      void app.close()
    })
  if (READERS > 0) await readDemo(app.service, DEMO_PHOTO, say)
  if (stopping) return
  const address = await app.listen({ port: PORT, host: HOST }).catch(async (error: unknown) => {
    await app.close()
    throw (error as NodeJS.ErrnoException).code === 'EADDRINUSE'
      ? new UsageError(`Port ${PORT} is taken. Choose another one, or stop what listens there.`, { cause: error })
      : error
  })
  listensAt = Number(new URL(address).port)
  say(`Stepglass is at ${address}`)
  if (passphrase !== undefined) await invite(addresses(), PASSPHRASE === undefined ? passphrase : undefined)
}
