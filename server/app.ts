import { TypeBoxValidatorCompiler, type TypeBoxTypeProvider } from '@fastify/type-provider-typebox'
import Fastify, { type FastifyServerOptions } from 'fastify'
import { existsSync } from 'node:fs'
import { pictureMaker } from './pictures/pictures.js'
import { requirePassphrase } from './plugins/access.js'
import { answerErrors, answerUnreadable } from './plugins/errors.js'
import { describeRoutes } from './plugins/openapi.js'
import { serviceMetrics } from './plugins/metrics.js'
import { keepSafe } from './plugins/safety.js'
import { servePage } from './plugins/web-files.js'
import ageing from './routes/ageing.js'
import archive from './routes/archive.js'
import combined from './routes/combined.js'
import compare from './routes/compare.js'
import finish from './routes/finish.js'
import health from './routes/health.js'
import keys from './routes/keys.js'
import ladders from './routes/ladders.js'
import now from './routes/now.js'
import photos from './routes/photos.js'
import planning from './routes/planning.js'
import printables from './routes/printables.js'
import readings from './routes/readings.js'
import received from './routes/received.js'
import records from './routes/records.js'
import settingUses from './routes/setting-uses.js'
import shared from './routes/shared.js'
import sheetLinks from './routes/sheet-links.js'
import sheets from './routes/sheets.js'
import type { Service } from './service.js'
import { openStore } from './storage/store.js'
import { openPhotoPool, type PhotoPool } from './worker/photo-pool.js'
import { readingPace } from './worker/reading-pace.js'
import { startReadingQueue } from './worker/reading-queue.js'
import type { SharedQueueOptions } from './worker/shared-queue.js'
import { timedPool } from './worker/timed-pool.js'

export interface AppOptions {
  /** Where photographs and records are kept; made when missing. */
  readonly dataFolder: string
  /** PostgreSQL database that holds everything instead. Default: none. */
  readonly databaseUrl?: string
  /** With a database: whether this process reads as well, and how long it waits for others. */
  readonly sharing?: SharedQueueOptions
  /** Folder of the built interface. Default: none is served. */
  readonly webFolder?: string
  /** Who reads the photographs. Default: readers in processes of their own. */
  readonly pool?: PhotoPool
  /** Opens the service to other machines, which must send this. Default: none; it answers as this machine alone. */
  readonly passphrase?: string
  /** Addresses at which those machines reach it, for the page to show. Default: none. */
  readonly addresses?: () => string[]
  /** Photographs that may wait to be read. Default: 500. */
  readonly maxWaiting?: number
  /** Address of a reverse proxy that says whom it asks for, and whether by https. Default: none is believed. */
  readonly trustProxy?: string
  /** Fastify's log. Default: none. */
  readonly logger?: FastifyServerOptions['logger']
}

/** The whole service, all but listening. Readings that an earlier run left are taken up at once. */
export async function buildApp(options: AppOptions) {
  const { dataFolder, databaseUrl, sharing, webFolder, maxWaiting = 500 } = options
  const { passphrase, addresses = () => [], trustProxy = false, logger = false } = options
  const app = Fastify({
    logger,
    trustProxy,
    frameworkErrors: answerUnreadable,
    requestTimeout: 300_000,
    // Whoever takes longer for a few lines holds a connection for its own sake.
    http: { headersTimeout: 20_000 },
    forceCloseConnections: true,
  }).withTypeProvider<TypeBoxTypeProvider>()
  // Bodies are checked as they are; what stands in an address is text and converted first.
  app.setValidatorCompiler(TypeBoxValidatorCompiler)

  const store = await openStore(dataFolder, databaseUrl)
  app.log.info({ started: store.started }, 'opened what is kept')
  const metrics = serviceMetrics()
  const untimed = options.pool ?? openPhotoPool()
  const pace = readingPace(untimed.readers, store.shared)
  const pool = timedPool(untimed, (tookS, end) => {
    metrics.readings.observe({ end }, tookS)
    pace.note(tookS)
  })
  const queue = store.shared
    ? (await import('./worker/shared-queue.js')).startSharedQueue(store, store.shared, pool, pace, app.log, sharing)
    : startReadingQueue(store, pool, app.log)
  const service: Service = {
    store,
    queue,
    pool,
    pace,
    metrics,
    maxWaiting,
    pictures: pictureMaker(store.previews, pool),
    invitation: passphrase === undefined ? undefined : { passphrase, addresses },
  }
  app.addHook('preClose', () => queue.close())
  app.addHook('onClose', () => store.close())

  answerErrors(app)
  await keepSafe(app, { loopbackOnly: passphrase === undefined })
  if (passphrase !== undefined) await requirePassphrase(app, passphrase)
  await describeRoutes(app)
  const api = [
    photos,
    readings,
    ladders,
    records,
    combined,
    compare,
    planning,
    finish,
    ageing,
    printables,
    health,
    archive,
    now,
  ]
  const handOn = [sheets, sheetLinks, received, settingUses, keys]
  for (const routes of [...api, ...handOn]) await app.register(routes, { prefix: '/api', service })
  await app.register(shared, { prefix: '/s', service })
  metrics.serve(app, service)
  if (webFolder !== undefined && existsSync(webFolder)) await servePage(app, webFolder)
  queue.wake()
  return Object.assign(app, { service })
}
