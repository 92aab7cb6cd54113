import { networkInterfaces } from 'node:os'
import { toString as drawQrCode } from 'qrcode'
import { buildApp } from './app.js'
import { readDemo } from './demo.js'
import { randomName } from './random-name.js'
import { DATA_FOLDER, DEMO_PHOTO, WEB_FOLDER } from './paths.js'
import { isLoopback } from './plugins/safety.js'
import { UsageError } from './usage-error.js'

export interface ServeOptions {
  /** Default: 8080. 0 takes any free one. */
  readonly port?: number
  /** Default: 127.0.0.1, this machine alone. */
  readonly host?: string
  /** What other machines must send when the host is open to them. Default: a new one at each start. */
  readonly passphrase?: string
  /** Default: data/ in the checkout. */
  readonly dataFolder?: string
}

const PASSPHRASE_LENGTH = 10
const SHORTEST_PASSPHRASE = 8
const say = (line: string) => console.log(line)

/** The addresses at which other machines reach this one. */
const networkAddresses = (host: string, port: string): string[] =>
  Object.values(networkInterfaces())
    .flatMap((addresses) => addresses ?? [])
    .filter(
      ({ family, internal, address }) => family === 'IPv4' && !internal && ['0.0.0.0', '::', address].includes(host),
    )
    .map(({ address }) => `http://${address}:${port}`)

/** For the phone: the address as a code, and what to enter there. */
async function invite(host: string, port: string, passphrase: string): Promise<void> {
  for (const address of networkAddresses(host, port)) {
    say(`\nFor other machines and phones in this network: ${address}`)
    say(await drawQrCode(address, { type: 'utf8' }))
  }
  say(`Passphrase, with any name: ${passphrase}`)
  say('It crosses the network unencrypted: open the service only in a network you trust.')
}

/** Starts the service and stops it cleanly when the process is asked to end. */
export async function serve(options: ServeOptions = {}): Promise<void> {
  const { port = 8080, host = '127.0.0.1', dataFolder = DATA_FOLDER } = options
  const passphrase = isLoopback(host) ? undefined : (options.passphrase ?? randomName(PASSPHRASE_LENGTH))
  if (passphrase !== undefined && passphrase.length < SHORTEST_PASSPHRASE)
    throw new UsageError(`The passphrase needs at least ${SHORTEST_PASSPHRASE} characters.`)
  let listensAt = port
  const app = await buildApp({
    dataFolder,
    webFolder: WEB_FOLDER,
    ...(passphrase !== undefined && { passphrase, addresses: () => networkAddresses(host, String(listensAt)) }),
    logger: { level: 'warn', stream: process.stderr },
  })
  let stopping = false
  for (const signal of ['SIGINT', 'SIGTERM'] as const)
    process.once(signal, () => {
      stopping = true
      void app.close()
    })
  await readDemo(app.service, DEMO_PHOTO, say)
  if (stopping) return
  const address = await app.listen({ port, host }).catch(async (error: unknown) => {
    await app.close()
    throw (error as NodeJS.ErrnoException).code === 'EADDRINUSE'
      ? new UsageError(`Port ${port} is taken. Choose another one, or stop what listens there.`, { cause: error })
      : error
  })
  listensAt = Number(new URL(address).port)
  say(`Stepglass is at ${address}`)
  if (passphrase !== undefined) await invite(host, String(listensAt), passphrase)
}
