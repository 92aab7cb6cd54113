import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'
import type { PointPx } from '../../server/api/readings.js'
import { photoUrl } from '../api-client.js'
import { MinusIcon, PlusIcon, WholeIcon } from '../icons.js'
import { texts } from '../texts/page.js'
import { clickedPx, middleOf, type BoxPx } from './outline.js'
import { PHOTO_WIDTH_PX, type Photo } from './photo-part.js'
import { useZoom } from './use-zoom.js'
import { magnification } from './visible-part.js'

const words = texts.photo.zoom
const OVERVIEW_WIDTH_PX = 1400
/** From here on the small picture of the whole photo looks coarse. */
const SHARP_FROM = 1.4

interface Props {
  readonly photo: Photo
  /** What is seen at first, in the photo's pixels. */
  readonly box: BoxPx
  /** What is enlarged first, in the photo's pixels. Default: the middle of the box. */
  readonly about?: PointPx
  readonly look: string
  readonly label: string
  /** @param reachPx how far from the point a thing may lie that was meant */
  readonly onTap: (point: PointPx, reachPx: number, times: number) => void
  /** What is drawn over the photo, in its pixels. @param times how many times larger it is seen */
  readonly children: (times: number) => ComponentChildren
}

/** A part of the photo that can be enlarged and moved about, by fingers, wheel, buttons and keys. */
export function ZoomPhoto({ photo: { photoId, widthPx, heightPx }, box, about, look, label, onTap, children }: Props) {
  const [whole] = useState(box)
  const { part, picture, enlarged, gestures, ...zoom } = useZoom(whole, about ?? middleOf(whole))
  const times = magnification(whole, part)
  const wide = Math.min(widthPx, PHOTO_WIDTH_PX)
  const sharp = part.width * SHARP_FROM < widthPx
  return (
    <div class="zoom" role="group" aria-label={words.group} tabIndex={0} onKeyDown={zoom.onKeyDown}>
      <svg
        ref={picture}
        class={`${look}${enlarged ? ' enlarged' : ''}`}
        viewBox={`${part.x} ${part.y} ${part.width} ${part.height}`}
        role="img"
        aria-label={label}
        {...gestures}
        onClick={(event) => {
          if (!zoom.wasGesture()) onTap(clickedPx(event, event.currentTarget), part.width / 40, times)
        }}
      >
        <image href={photoUrl(photoId, Math.min(wide, OVERVIEW_WIDTH_PX))} width={widthPx} height={heightPx} />
        {sharp && <image href={photoUrl(photoId, wide)} width={widthPx} height={heightPx} />}
        {children(times)}
      </svg>
      <div class="zoom-buttons">
        <button type="button" aria-label={words.larger} onClick={zoom.larger}>
          <PlusIcon />
        </button>
        <button type="button" aria-label={words.smaller} aria-disabled={!enlarged} onClick={zoom.smaller}>
          <MinusIcon />
        </button>
        <button type="button" aria-label={words.whole} aria-disabled={!enlarged} onClick={zoom.showWhole}>
          <WholeIcon />
        </button>
      </div>
    </div>
  )
}
