import { buildApp } from './app.js'
import { readDemo } from './demo.js'
import { DATA_FOLDER, DEMO_PHOTO, WEB_FOLDER } from './paths.js'
import { isLoopback } from './plugins/safety.js'

export interface ServeOptions {
  /** Default: 8080. 0 takes any free one. */
  readonly port?: number
  /** Default: 127.0.0.1, this machine alone. */
  readonly host?: string
  /** Default: data/ in the checkout. */
  readonly dataFolder?: string
}

const say = (line: string) => console.log(line)

/** Starts the service and stops it cleanly when the process is asked to end. */
export async function serve(options: ServeOptions = {}): Promise<void> {
  const { port = 8080, host = '127.0.0.1', dataFolder = DATA_FOLDER } = options
  const app = await buildApp({
    dataFolder,
    webFolder: WEB_FOLDER,
    openToNetwork: !isLoopback(host),
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
      ? new Error(`Port ${port} is taken. Choose another one, or stop what listens there.`, { cause: error })
      : error
  })
  say(`Stepglass is at ${address}`)
  if (!isLoopback(host)) say('Anyone on this network can use it.')
}
