import { useState } from 'preact/hooks'
import type { ReadLadder, ReadRung, RefusedRung, RefusalReply, Rung } from '../../server/api/readings.js'
import { photoUrl } from '../api-client.js'
import { formatExposure, formatNumber, sentenceOfCode } from '../format.js'
import { texts } from '../texts.js'
import { FeatureFacts } from './feature-facts.js'
import { featuresOf, type Feature } from './features.js'
import { boundingBox, clickedPx, nearest, svgPoints } from './outline.js'

/** Enough for a coupon of 42 mm to fill a desktop's column; phones scale it down. */
const CLOSE_UP_WIDTH_PX = 3200

const words = texts.photo

function Picture(props: {
  rung: Rung
  features: readonly Feature[]
  chosen: Feature | undefined
  choose: (feature: Feature) => void
  photoId: string
  photo: ReadLadder['photo']
}) {
  const { rung, features, chosen, choose, photoId, photo } = props
  const outer = boundingBox(rung.outlinePx)
  const { x, y, width, height } = boundingBox(rung.outlinePx, outer.width / 30)
  return (
    <svg
      class="close-up"
      viewBox={`${x} ${y} ${width} ${height}`}
      role="img"
      aria-label={words.closeUpAlt(rung.slot)}
      onClick={(event) => {
        const hit = nearest(clickedPx(event, event.currentTarget), features, width / 30)
        if (hit) choose(hit)
      }}
    >
      <image
        href={photoUrl(photoId, Math.min(photo.widthPx, CLOSE_UP_WIDTH_PX))}
        width={photo.widthPx}
        height={photo.heightPx}
      />
      {features.map((feature) => (
        <g key={feature.key} class={`${feature.good ? 'read' : 'unread'}${feature === chosen ? ' chosen' : ''}`}>
          <polygon class="casing" points={svgPoints(feature.outlinePx)} />
          <polygon class="outline" points={svgPoints(feature.outlinePx)} />
        </g>
      ))}
    </svg>
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

const Refusals = ({ title, refusals }: { title: string; refusals: readonly RefusalReply[] }) => (
  <div class="note warning">
    <h4>{title}</h4>
    <ul>
      {refusals.map(({ code, advice, detail }) => (
        <li key={code + (detail ?? '')}>
          <strong>{sentenceOfCode(code)}.</strong> {advice}
          {detail && <span class="hint"> ({detail})</span>}
        </li>
      ))}
    </ul>
  </div>
)

function Budget({ terms }: { terms: ReadRung['uncertaintyBudget'] }) {
  const { source, value, shared } = words.budgetHead
  return (
    <details>
      <summary>{words.budget}</summary>
      <table class="budget">
        <thead>
          <tr>
            <th scope="col">{source}</th>
            <th scope="col">{value}</th>
            <th scope="col">{shared}</th>
          </tr>
        </thead>
        <tbody>
          {terms.map((term) => (
            <tr key={term.source}>
              <th scope="row">{term.source}</th>
              <td>{formatNumber(term.standardUncertaintyUm, 1)}</td>
              <td>{term.shared ? words.yes : words.no}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  )
}

interface Props {
  readonly rung: ReadRung | RefusedRung
  readonly photoId: string
  readonly photo: ReadLadder['photo']
}

/** One coupon enlarged, with its features to choose from and the numbers of the chosen one. */
export function CouponCloseUp({ rung, photoId, photo }: Props) {
  const read = 'growthUm' in rung ? rung : undefined
  const [features] = useState(() => (read ? featuresOf(read) : []))
  const [chosen, choose] = useState<Feature | undefined>(features[0])
  return (
    <div class="coupon">
      <h3>{words.couponTitle(rung.slot, formatExposure(rung.exposureS))}</h3>
      <Picture {...{ rung, features, chosen, choose, photoId, photo }} />
      {'refusal' in rung && <Refusals title={words.notRead} refusals={[rung.refusal]} />}
      {read && read.notes.length > 0 && <Refusals title={words.partsNotRead} refusals={read.notes} />}
      <FeatureChips {...{ features, chosen, choose }} />
      {read && chosen && <FeatureFacts key={chosen.key} rung={read} feature={chosen} />}
      {read && read.uncertaintyBudget.length > 0 && <Budget terms={read.uncertaintyBudget} />}
    </div>
  )
}
