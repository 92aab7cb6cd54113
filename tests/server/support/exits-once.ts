import sharp from 'sharp'
import type { LadderReading } from '../../../analysis/index.js'
import type { PhotoTask } from '../../../server/worker/read-photo.js'
import { madeUpReading } from './made-up-reading.js'

/** Ends its process at a black photograph. */
export default async function readPhoto({ path }: PhotoTask): Promise<LadderReading> {
  const { channels } = await sharp(path).stats()
  if (channels[0]?.max === 0) process.exit(1)
  return madeUpReading
}
