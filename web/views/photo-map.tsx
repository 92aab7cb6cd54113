import type { Ref } from 'preact'
import { useMemo, useState } from 'preact/hooks'
import type { ReadingReply, ReadLadder } from '../../server/api/readings.js'
import { overlayUrl } from '../api-client.js'
import { rungName } from '../rung-words.js'
import { texts } from '../texts/page.js'
import { CouponCloseUp } from './coupon-close-up.js'
import { featuresOf } from './features.js'
import { OutlineShape } from './outline-shape.js'
import { boundingBox, middleOf, nearest } from './outline.js'
import { ZoomPhoto } from './zoom-photo.js'

/** From this many times larger on, the features of the coupons can be told apart and tapped. */
const FEATURES_FROM = 2

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
  const photo = { ...ladder.photo, photoId: reading.photoId }
  const [featureKey, setFeatureKey] = useState<string>()
  const features = useMemo(
    () =>
      rungs.flatMap((rung) =>
        'growthUm' in rung ? featuresOf(rung).map((feature) => ({ ...feature, slot: rung.slot })) : [],
      ),
    [rungs],
  )
  const chosen = rungs.find((rung) => rung.slot === slot)
  return (
    <section class="panel photo" aria-labelledby="photo" ref={sectionRef} tabIndex={-1}>
      <h2 id="photo">{words.title}</h2>
      <p class="hint">{words.lead}</p>
      <div class="photo-body">
        <div class="photo-left">
          <ZoomPhoto
            photo={photo}
            box={{ x: 0, y: 0, width: widthPx, height: heightPx }}
            {...(chosen && chosen.outlinePx.length > 0 && { about: middleOf(boundingBox(chosen.outlinePx)) })}
            look="overview"
            label={words.alt}
            onTap={(point, reachPx, times) => {
              const feature = times < FEATURES_FROM ? undefined : nearest(point, features, reachPx)
              const hit = feature ?? nearest(point, rungs, reachPx)
              if (hit) setSlot(hit.slot)
              if (feature) setFeatureKey(feature.key)
            }}
          >
            {(times) => (
              <>
                {rungs.map((rung) => {
                  const { x, y, height } = boundingBox(rung.outlinePx)
                  const fontSize = widthPx / 24 / times
                  return (
                    <g key={rung.slot} class={rung === chosen ? 'chosen' : ''}>
                      <OutlineShape
                        outlinePx={rung.outlinePx}
                        good={'growthUm' in rung}
                        chosen={rung === chosen && times < FEATURES_FROM}
                      />
                      <text x={x} y={y + height / 2} dx="-0.2em" font-size={fontSize} stroke-width={fontSize / 6}>
                        {rung.slot}
                      </text>
                    </g>
                  )
                })}
                {times >= FEATURES_FROM && (
                  <g class="fine">
                    {features.map((feature) => (
                      <OutlineShape
                        key={`${feature.slot} ${feature.key}`}
                        outlinePx={feature.outlinePx}
                        good={feature.good}
                        chosen={feature.slot === slot && feature.key === featureKey}
                      />
                    ))}
                  </g>
                )}
              </>
            )}
          </ZoomPhoto>
          <p class="hint">{words.zoom.hint}</p>
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
            photo={photo}
            reading={reading}
            featureKey={featureKey}
            chooseFeature={setFeatureKey}
            reload={reload}
          />
        )}
      </div>
    </section>
  )
}
