import type { Ref } from 'preact'
import type { ReadingReply, ReadLadder } from '../../server/api/readings.js'
import { overlayUrl, photoUrl } from '../api-client.js'
import { texts } from '../texts/page.js'
import { CouponCloseUp } from './coupon-close-up.js'
import { boundingBox, clickedPx, nearest, svgPoints } from './outline.js'
import { rungName } from '../rung-words.js'

const OVERVIEW_WIDTH_PX = 1400

interface Props {
  readonly reading: ReadingReply
  readonly ladder: ReadLadder
  readonly slot: number
  readonly setSlot: (slot: number) => void
  readonly reload: () => void
  readonly sectionRef: Ref<HTMLElement>
}

/** The photo with its coupons outlined; one of them is shown close up. */
export function PhotoMap({ reading, ladder, slot, setSlot, reload, sectionRef }: Props) {
  const words = texts.photo
  const { widthPx, heightPx } = ladder.photo
  const { rungs } = ladder
  const chosen = rungs.find((rung) => rung.slot === slot)
  return (
    <section class="panel photo" aria-labelledby="photo" ref={sectionRef} tabIndex={-1}>
      <h2 id="photo">{words.title}</h2>
      <p class="hint">{words.lead}</p>
      <div class="photo-body">
        <div class="photo-left">
          <div class="photo-frame">
            <img src={photoUrl(reading.photoId, OVERVIEW_WIDTH_PX)} width={widthPx} height={heightPx} alt={words.alt} />
            <svg
              class="outlines"
              viewBox={`0 0 ${widthPx} ${heightPx}`}
              aria-hidden="true"
              onClick={(event) => {
                const hit = nearest(clickedPx(event, event.currentTarget), rungs, widthPx / 40)
                if (hit) setSlot(hit.slot)
              }}
            >
              {rungs.map((rung) => {
                const { x, y, height } = boundingBox(rung.outlinePx)
                const look = `${'growthUm' in rung ? 'read' : 'unread'}${rung === chosen ? ' chosen' : ''}`
                return (
                  <g key={rung.slot} class={look}>
                    <polygon class="casing" points={svgPoints(rung.outlinePx)} />
                    <polygon class="outline" points={svgPoints(rung.outlinePx)} />
                    <text x={x} y={y + height / 2} dx="-0.2em" font-size={widthPx / 24} stroke-width={widthPx / 140}>
                      {rung.slot}
                    </text>
                  </g>
                )
              })}
            </svg>
          </div>
          <div class="chips" role="group" aria-label={words.coupons}>
            {rungs.map((rung) => (
              <button
                key={rung.slot}
                type="button"
                class={'growthUm' in rung ? 'chip' : 'chip bad'}
                aria-pressed={rung === chosen}
                onClick={() => setSlot(rung.slot)}
              >
                {words.coupon(rung.slot, rungName(ladder.design, rung.slot))}
              </button>
            ))}
          </div>
          <p>
            <a href={overlayUrl(reading.readingId)}>{words.overlay}</a>
          </p>
        </div>
        {chosen && (
          <CouponCloseUp
            name={rungName(ladder.design, chosen.slot)}
            key={chosen.slot}
            rung={chosen}
            photo={{ ...ladder.photo, photoId: reading.photoId }}
            reading={reading}
            reload={reload}
          />
        )}
      </div>
    </section>
  )
}
