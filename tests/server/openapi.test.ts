import { expect, it } from 'vitest'
import { startService } from './support/service.js'

interface Description {
  readonly openapi: string
  readonly components: { readonly schemas: Readonly<Record<string, unknown>> }
  readonly paths: Readonly<Record<string, Readonly<Record<string, { summary?: string; responses?: object }>>>>
}

it('describes every route of the service, what it takes and what it answers', async () => {
  const service = await startService()
  const reply = await service.get('/docs/json')
  const description = reply.json<Description>()
  expect(description.openapi).toBe('3.1.0')

  const routes = Object.entries(description.paths).flatMap(([path, methods]) =>
    Object.keys(methods).map((method) => `${method.toUpperCase()} ${path}`),
  )
  expect(routes.sort()).toEqual([
    'DELETE /api/photos/{photoId}/left-out/{slot}',
    'DELETE /api/sheets/{sheetId}/links/{linkId}',
    'GET /api/archive.zip',
    'GET /api/bottles',
    'GET /api/bottles/{recordId}',
    'GET /api/compare',
    'GET /api/finish/steps',
    'GET /api/health',
    'GET /api/invitation',
    'GET /api/known-keys',
    'GET /api/ladders',
    'GET /api/ladders/card.pdf',
    'GET /api/ladders/card.png',
    'GET /api/ladders/coupon.3mf',
    'GET /api/ladders/coupon.stl',
    'GET /api/ladders/kit.zip',
    'GET /api/ladders/{ladderId}',
    'GET /api/ladders/{ladderId}/ageing',
    'GET /api/ladders/{ladderId}/combined',
    'GET /api/ladders/{ladderId}/plan',
    'GET /api/layout',
    'GET /api/live',
    'GET /api/now',
    'GET /api/photos/{photoId}/image',
    'GET /api/printers',
    'GET /api/printers/{recordId}',
    'GET /api/readings',
    'GET /api/readings.csv',
    'GET /api/readings/{readingId}',
    'GET /api/readings/{readingId}/expected',
    'GET /api/readings/{readingId}/overlay.jpg',
    'GET /api/readings/{readingId}/progress',
    'GET /api/ready',
    'GET /api/reports',
    'GET /api/reports/{recordId}',
    'GET /api/resins',
    'GET /api/resins/{recordId}',
    'GET /api/settings',
    'GET /api/settings/side-by-side',
    'GET /api/settings/table/{form}',
    'GET /api/settings/{recordId}',
    'GET /api/settings/{recordId}/sheets',
    'GET /api/sheets/{sheetId}/as/{form}',
    'GET /api/sheets/{sheetId}/label',
    'GET /api/sheets/{sheetId}/links',
    'GET /api/signing-key',
    'GET /api/uploads/{uploadId}',
    'GET /s/{token}',
    'GET /s/{token}/{form}',
    'PATCH /api/bottles/{recordId}',
    'PATCH /api/ladders/{ladderId}',
    'PATCH /api/printers/{recordId}',
    'PATCH /api/reports/{recordId}',
    'PATCH /api/resins/{recordId}',
    'PATCH /api/settings/{recordId}',
    'POST /api/archive',
    'POST /api/bottles',
    'POST /api/bottles/{recordId}/undo',
    'POST /api/finish/post-cure',
    'POST /api/finish/prepare',
    'POST /api/finish/process-ladder',
    'POST /api/finish/smooth',
    'POST /api/finish/traveller.pdf',
    'POST /api/known-keys',
    'POST /api/ladders/first',
    'POST /api/ladders/levels',
    'POST /api/ladders/plan',
    'POST /api/lamp',
    'POST /api/layer-height',
    'POST /api/photos',
    'POST /api/printers',
    'POST /api/printers/{recordId}/undo',
    'POST /api/readings/{readingId}/again',
    'POST /api/reports',
    'POST /api/reports/{recordId}/undo',
    'POST /api/resins',
    'POST /api/resins/{recordId}/undo',
    'POST /api/settings',
    'POST /api/settings/take-in',
    'POST /api/settings/{recordId}/adapt',
    'POST /api/settings/{recordId}/sheets',
    'POST /api/settings/{recordId}/undo',
    'POST /api/sheets/{sheetId}/links',
    'POST /api/working-curve',
    'PUT /api/photos/{photoId}/left-out/{slot}',
  ])
  for (const [path, methods] of Object.entries(description.paths))
    for (const route of Object.values(methods)) expect(route.summary, path).toBeTruthy()

  const references = [...reply.body.matchAll(/"\$ref":"#\/components\/schemas\/([^"]+)"/g)].map((match) => match[1])
  expect(references.length).toBeGreaterThan(10)
  for (const name of references) expect(description.components.schemas, name).toHaveProperty(name ?? '')
})
