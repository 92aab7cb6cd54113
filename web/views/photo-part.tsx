import type { ComponentChildren } from 'preact'
import type { ReadLadder } from '../../server/api/readings.js'
import { photoUrl } from '../api-client.js'
import type { BoxPx } from './outline.js'

/** Enough for a coupon of 42 mm to fill a desktop's column; phones scale it down. */
const PHOTO_WIDTH_PX = 3200

/** The photo a reading was made from, with its size in pixels. */
export type Photo = ReadLadder['photo'] & { readonly photoId: string }

interface Props {
  readonly photo: Photo
  readonly box: BoxPx
  readonly look: string
  readonly label: string
  readonly onClick?: (event: MouseEvent & { readonly currentTarget: SVGSVGElement }) => void
  readonly children?: ComponentChildren
}

/** A part of the photo, with what is drawn over it in the photo's pixels. */
export function PhotoPart({ photo, box, look, label, onClick, children }: Props) {
  const { photoId, widthPx, heightPx } = photo
  return (
    <svg
      class={look}
      viewBox={`${box.x} ${box.y} ${box.width} ${box.height}`}
      role="img"
      aria-label={label}
      {...(onClick ? { onClick } : {})}
    >
      <image href={photoUrl(photoId, Math.min(widthPx, PHOTO_WIDTH_PX))} width={widthPx} height={heightPx} />
      {children}
    </svg>
  )
}
