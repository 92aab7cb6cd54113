import type { FastifyInstance } from 'fastify'
import { collectDefaultMetrics, Counter, Gauge, Histogram, Registry } from 'prom-client'
import type { Store } from '../storage/store.js'

const REQUEST_S = [0.005, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 5, 20]
const READING_S = [0.5, 1, 2, 4, 8, 15, 30, 60, 120]

/** Counts for Prometheus: what this process was asked, and how its readings went. */
export function serviceMetrics() {
  const register = new Registry()
  const registers = [register]
  const requests = new Histogram({
    name: 'stepglass_request_seconds',
    help: 'time from a request to the end of its answer',
    labelNames: ['method', 'route', 'status'],
    buckets: REQUEST_S,
    registers,
  })
  const readings = new Histogram({
    name: 'stepglass_reading_seconds',
    help: 'time a photograph took to be read here, by how that ended: read, refused, or why it failed',
    labelNames: ['end'],
    buckets: READING_S,
    registers,
  })
  const turnedAway = new Counter({
    name: 'stepglass_uploads_turned_away_total',
    help: 'uploads answered 429 since too many photographs waited',
    registers,
  })
  let ofTheProcess = false

  return {
    readings,
    turnedAway,

    /** Serves what was counted under /metrics, to whoever may use the service. */
    serve(app: FastifyInstance, { store }: { readonly store: Store }): void {
      new Gauge({
        name: 'stepglass_readings_waiting',
        help: 'readings queued or under way',
        registers,
        async collect() {
          this.set(await store.readings.waiting())
        },
      })
      const { shared } = store
      if (shared)
        new Gauge({
          name: 'stepglass_readers',
          help: 'processes anywhere that read for this database; one that is killed is counted for half a minute more',
          registers,
          async collect() {
            const { rows } = await shared.query<{ count: number }>('select count(*) as count from readers')
            this.set(rows[0]?.count ?? 0)
          },
        })
      app.addHook('onResponse', async ({ method, routeOptions }, reply) => {
        const labels = { method, route: routeOptions.url ?? 'none', status: reply.statusCode }
        requests.observe(labels, reply.elapsedTime / 1000)
      })
      app.get('/metrics', { schema: { hide: true } }, async (_request, reply) => {
        if (!ofTheProcess) collectDefaultMetrics({ register })
        ofTheProcess = true
        return reply.type(register.contentType).send(await register.metrics())
      })
    },
  }
}
export type ServiceMetrics = ReturnType<typeof serviceMetrics>
