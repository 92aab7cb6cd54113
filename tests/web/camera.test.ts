import sharp, { type Sharp } from 'sharp'
import { beforeAll, describe, expect, it } from 'vitest'
import { greyOf, judge, type GreyPicture } from '../../web/camera/measures.js'

const WIDTH = 320

async function look(picture: Sharp): Promise<GreyPicture> {
  const small = picture.resize({ width: WIDTH }).toColourspace('srgb').ensureAlpha()
  const { data, info } = await small.raw().toBuffer({ resolveWithObject: true })
  return greyOf(new Uint8ClampedArray(data), info.width, info.height)
}

// Simulated photographs of a card filling the frame, the nearest there is to a phone's preview.
describe.each(['demo-ladder', 'demo-ladder-phone', 'hazy-yellow', 'roller-ink'])('looking at %s', (name) => {
  let photo: Buffer
  beforeAll(async () => {
    photo = await sharp(`samples/${name}.jpg`)
      .resize({ width: 4 * WIDTH })
      .toBuffer()
  })

  it('finds it good to take', async () => {
    expect(judge(await look(sharp(photo)))).toEqual({ card: true, sharp: true, glare: true, light: true })
  })

  it('sees that it is blurred', async () => {
    expect(judge(await look(sharp(photo).blur(16))).sharp).toBe(false)
  })

  it('sees that it is too dark', async () => {
    expect(judge(await look(sharp(photo).linear(0.2))).light).toBe(false)
  })

  it('sees that it is burnt out', async () => {
    expect(judge(await look(sharp(photo).linear(2.2))).glare).toBe(false)
  })
})

it('sees that there is no card', async () => {
  const desk = sharp({ create: { width: 640, height: 480, channels: 3, background: '#8a7a66' } }).png()
  expect(judge(await look(sharp(await desk.toBuffer()))).card).toBe(false)
})
