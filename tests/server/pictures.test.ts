import sharp, { type Sharp } from 'sharp'
import { expect, it } from 'vitest'
import type { PhotoAccepted } from '../../server/api/readings.js'
import { madeUpReading } from './support/made-up-reading.js'
import { plainPhoto, startService } from './support/service.js'

async function pixels(picture: Sharp) {
  const { data, info } = await picture.removeAlpha().raw().toBuffer({ resolveWithObject: true })
  return (column: number, row: number) => [...data.subarray(3 * (row * info.width + column)).subarray(0, 3)]
}

it('shows a photograph upright, no wider than asked and without its metadata', async () => {
  const service = await startService()
  // Orientation 6: the camera was turned, the first row is the right side. Left half red, right half blue.
  const half = (colour: string) => sharp({ create: { width: 600, height: 900, channels: 3, background: colour } }).png()
  const turned = await sharp({ create: { width: 1200, height: 900, channels: 3, background: '#f00' } })
    .composite([{ input: await half('#00f').toBuffer(), left: 600, top: 0 }])
    .withExif({ IFD0: { Make: 'A camera' }, IFD3: { GPSLatitude: '47/1 3/1 0/1' } })
    .withMetadata({ orientation: 6 })
    .jpeg()
    .toBuffer()
  expect(turned.includes('Exif')).toBe(true)

  const { photoId } = (await service.upload(turned, {}, 'turned.jpg')).json<PhotoAccepted>()
  const reply = await service.get(`/api/photos/${photoId}/image?width=300`)
  expect(reply.headers['content-type']).toBe('image/jpeg')
  const picture = sharp(reply.rawPayload)
  expect(await picture.metadata()).toMatchObject({ format: 'jpeg', width: 300, height: 400 })
  expect(reply.rawPayload.includes('Exif')).toBe(false)
  const at = await pixels(picture)
  expect(at(150, 50)[0], 'red is above').toBeGreaterThan(200)
  expect(at(150, 350)[2], 'blue is below').toBeGreaterThan(200)

  const whole = await service.get(`/api/photos/${photoId}/image?width=8000`)
  expect(await sharp(whole.rawPayload).metadata()).toMatchObject({ width: 900, height: 1200 })
})

it('draws what was read into the photograph, at its place', async () => {
  const service = await startService()
  const accepted = (await service.upload(await plainPhoto())).json<PhotoAccepted>()
  await service.ended(accepted)
  const reply = await service.get(`/api/readings/${accepted.readingId}/overlay.jpg?width=600`)
  expect(reply.headers['content-type']).toBe('image/jpeg')
  const picture = sharp(reply.rawPayload)
  expect(await picture.metadata()).toMatchObject({ width: 600, height: 450 })
  const at = await pixels(picture)
  // Half the photograph's size: the first coupon's left edge at column 100 lies at 50, its middle row at 80.
  const [red = 0, , blue = 0] = at(50, 80)
  expect(blue - red, 'the outline is blue').toBeGreaterThan(60)
  // The third slot was refused: crossed out from corner to corner, so drawn at its centre (400, 720).
  const [refusedRed = 0, , refusedBlue = 0] = at(200, 360)
  expect(refusedRed - refusedBlue, 'the cross is red').toBeGreaterThan(60)
  // Nothing is drawn beside the coupons.
  expect(at(500, 225).every((value) => Math.abs(value - 0xa0) <= 3)).toBe(true)
  expect(madeUpReading.rungs[2]).toHaveProperty('refusal')

  for (const width of [333, 334, 335, 1199, 8000]) {
    const other = await service.get(`/api/readings/${accepted.readingId}/overlay.jpg?width=${width}`)
    expect((await sharp(other.rawPayload).metadata()).width).toBe(Math.min(width, 1200))
  }
})

it('tells why there is no picture of what is none', async () => {
  const service = await startService()
  const { photoId } = (await service.upload(Buffer.from('text'))).json<PhotoAccepted>()
  const reply = await service.get(`/api/photos/${photoId}/image`)
  expect(reply.statusCode).toBe(422)
  expect(reply.json()).toMatchObject({ code: 'no-picture', advice: expect.stringContaining('JPEG') as string })
})

it('refuses a width that is none', async () => {
  const service = await startService()
  for (const width of ['0', 'wide', '99999'])
    expect((await service.get(`/api/photos/${'0'.repeat(64)}/image?width=${width}`)).statusCode, width).toBe(400)
})
