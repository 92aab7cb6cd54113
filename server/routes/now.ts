import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox'
import { toString as drawQrCode } from 'qrcode'
import { failures } from '../api/common.js'
import { InvitationReply, NowReply } from '../api/now.js'
import type { StoredRecord, Setting } from '../api/records.js'
import { dueAgain } from '../finish/remeasure.js'
import type { Service } from '../service.js'

const LADDERS = 6
const SETTINGS = 3

/** What the first page shows, and how a phone gets there. */
const now: FastifyPluginAsyncTypebox<{ service: Service }> = async (app, { service: { store, invitation } }) => {
  app.get(
    '/now',
    {
      schema: {
        tags: ['service'],
        summary: 'What is under way, and what was found last',
        response: { 200: NowReply, ...failures },
      },
    },
    async () => {
      const [open, settings, planned, demo, waiting, aged] = await Promise.all([
        store.ladders.list({ open: true, simulated: false, limit: LADDERS }),
        store.records.list('setting', { limit: SETTINGS }),
        store.ladders.list({ origin: 'planned', limit: 1 }),
        store.readings.simulated(),
        store.readings.waiting(),
        store.ladders.toRemeasure(),
      ])
      const [last] = planned.ladders
      return {
        ladders: open.ladders,
        openLadders: open.total,
        settings: settings.records as StoredRecord<Setting>[],
        ...(last && { last }),
        ...(demo !== undefined && { demo: { readingId: demo } }),
        remeasure: aged.flatMap(({ photographed, ...ladder }) => {
          const due = dueAgain(photographed, Date.now())
          return due ? [{ ...ladder, ...due }] : []
        }),
        waiting,
      }
    },
  )

  app.get(
    '/invitation',
    {
      schema: {
        tags: ['service'],
        summary: 'How a phone in the same network opens this page',
        response: { 200: InvitationReply, ...failures },
      },
    },
    async () => {
      if (!invitation) return { open: false, addresses: [] }
      const addresses = await Promise.all(
        invitation.addresses().map(async (url) => ({ url, codeSvg: await drawQrCode(url, { type: 'svg' }) })),
      )
      return { open: true, passphrase: invitation.passphrase, addresses }
    },
  )
}
export default now
