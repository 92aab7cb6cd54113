import type { ReadLadder } from '../../server/api/readings.js'
import { photoUrl } from '../api-client.js'
import type { BoxPx } from './outline.js'

/** Enough for a coupon of 42 mm to fill a desktop's column; phones scale it down. */
export const PHOTO_WIDTH_PX = 3200

/** The photo a reading was made from, with its size in pixels. */
export type Photo = ReadLadder['photo'] & { readonly photoId: string }

interface Props {
  readonly photo: Photo
  readonly box: BoxPx
  readonly look: string
  readonly label: string
}

/** A part of the photo. */
export function PhotoPart({ photo, box, look, label }: Props) {
  const { photoId, widthPx, heightPx } = photo
  return (
    <svg class={look} viewBox={`${box.x} ${box.y} ${box.width} ${box.height}`} role="img" aria-label={label}>
      <image href={photoUrl(photoId, Math.min(widthPx, PHOTO_WIDTH_PX))} width={widthPx} height={heightPx} />
    </svg>
  )
}
