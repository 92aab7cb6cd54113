import { useState } from 'preact/hooks'
import type { ReadingReply, ReadRung, RefusedRung, RefusalReply, Rung } from '../../server/api/readings.js'
import { texts } from '../texts/page.js'
import { Budget } from './budget.js'
import { ClarityFacts } from './clarity-facts.js'
import { FeatureFacts } from './feature-facts.js'
import { FeatureFigures } from './feature-figures.js'
import { featuresOf, type Feature } from './features.js'
import { LeaveOut } from './leave-out.js'
import { OutlineShape } from './outline-shape.js'
import { boundingBox, nearest } from './outline.js'
import type { Photo } from './photo-part.js'
import { RefusalList } from './refusal-list.js'
import { ZoomPhoto } from './zoom-photo.js'

const words = texts.photo

function Picture(props: {
  rung: Rung
  features: readonly Feature[]
  chosen: Feature | undefined
  choose: (feature: Feature) => void
  photo: Photo
}) {
  const { rung, features, chosen, choose, photo } = props
  const box = boundingBox(rung.outlinePx, boundingBox(rung.outlinePx).width / 30)
  return (
    <ZoomPhoto
      photo={photo}
      box={box}
      look="close-up"
      label={words.closeUpAlt(rung.slot)}
      onTap={(point, reachPx) => {
        const hit = nearest(point, features, reachPx)
        if (hit) choose(hit)
      }}
    >
      {() =>
        features.map((feature) => (
          <OutlineShape
            key={feature.key}
            outlinePx={feature.outlinePx}
            good={feature.good}
            chosen={feature === chosen}
          />
        ))
      }
    </ZoomPhoto>
  )
}

const groups = [
  ['grating', words.gratings],
  ['gap', words.gaps],
  ['line', words.lines],
  ['space', words.spaces],
  ['window', texts.feature.window],
] as const

function FeatureChips(props: {
  features: readonly Feature[]
  chosen: Feature | undefined
  choose: (feature: Feature) => void
}) {
  const { features, chosen, choose } = props
  return (
    <div class="chip-groups">
      {groups.map(([kind, title]) => {
        const members = features.filter((feature) => feature.kind === kind)
        return members.length === 0 ? null : (
          <div key={kind} role="group" aria-label={title}>
            <p class="chip-title" aria-hidden="true">
              {title}
            </p>
            <div class="chips">
              {members.map((feature) => (
                <button
                  key={feature.key}
                  type="button"
                  class={feature.good ? 'chip small' : 'chip small bad'}
                  aria-pressed={feature === chosen}
                  aria-label={
                    feature.state ? texts.feature.titleWithState(feature.title, feature.state) : feature.title
                  }
                  onClick={() => choose(feature)}
                >
                  {feature.short}
                </button>
              ))}
            </div>
          </div>
        )
      })}
    </div>
  )
}

const NotRead = ({ title, refusals }: { title: string; refusals: readonly RefusalReply[] }) => (
  <div class="note warning">
    <h4>{title}</h4>
    <RefusalList refusals={refusals} />
  </div>
)

interface Props {
  /** What sets its rung apart. */
  readonly name: string
  readonly rung: ReadRung | RefusedRung
  readonly photo: Photo
  readonly reading: ReadingReply
  /** Which of its features is looked at, if it has it; else its first. */
  readonly featureKey: string | undefined
  readonly chooseFeature: (key: string) => void
  readonly reload: () => void
}

/** One coupon enlarged, with its features to choose from and the numbers of the chosen one. */
export function CouponCloseUp({ rung, name, photo, reading, featureKey, chooseFeature, reload }: Props) {
  const read = 'growthUm' in rung ? rung : undefined
  const [features] = useState(() => (read ? featuresOf(read) : []))
  const chosen = features.find(({ key }) => key === featureKey) ?? features[0]
  const choose = ({ key }: Feature) => chooseFeature(key)
  return (
    <div class="coupon">
      <h3>{words.couponTitle(rung.slot, name)}</h3>
      <Picture {...{ rung, features, chosen, choose, photo }} />
      {'refusal' in rung && <NotRead title={words.notRead} refusals={[rung.refusal]} />}
      {read && <LeaveOut reading={reading} slot={rung.slot} reload={reload} />}
      {read && read.notes.length > 0 && <NotRead title={words.partsNotRead} refusals={read.notes} />}
      {read && chosen && <FeatureFacts rung={read} feature={chosen} />}
      {read && chosen?.kind === 'window' && <ClarityFacts rung={read} />}
      <FeatureChips {...{ features, chosen, choose }} />
      {chosen && <FeatureFigures key={chosen.key} feature={chosen} photo={photo} />}
      {read && read.uncertaintyBudget.length > 0 && <Budget rung={read} />}
    </div>
  )
}
