import type { ReadLadder } from '../../server/api/readings.js'
import { toDigits } from '../format.js'
import { later } from '../later.js'
import { planAddress } from '../route.js'
import { texts } from '../texts/page.js'
import { Disclosure } from './disclosure.js'

const WhatIf = later(async () => (await import('../work/what-if.js')).WhatIf)
const Gates = later(async () => (await import('../work/gates.js')).Gates)
const Tone = later(async () => (await import('../work/tone.js')).Tone)
const Pose = later(async () => (await import('../work/pose.js')).Pose)

/** Ways from a suggestion to another layer height or lamp. */
function Carry({ readingId, suggestion }: { readingId: string; suggestion: NonNullable<ReadLadder['suggestion']> }) {
  const { exposureS, intervalS } = suggestion
  const [lowS, highS] = intervalS.map((end) => String(toDigits(end, 3)))
  return (
    <p class="carry">
      <a href={planAddress('layer-height', { reading: readingId })}>{texts.work.layerHeight}</a>
      <a href={planAddress('lamp', { exposureS: String(exposureS), lowS: lowS ?? '', highS: highS ?? '' })}>
        {texts.work.lamp}
      </a>
    </p>
  )
}

/** What a reading rests on, each part opened on demand. */
export function ShowWork({ ladder, readingId }: { ladder: ReadLadder; readingId: string }) {
  const words = texts.work
  const { gates } = ladder
  const passed = gates.filter((gate) => gate.passed).length
  return (
    <>
      {ladder.growthFit && (
        <Disclosure title={words.whatIf}>
          <WhatIf ladder={ladder} readingId={readingId} />
          {ladder.suggestion && <Carry readingId={readingId} suggestion={ladder.suggestion} />}
        </Disclosure>
      )}
      <Disclosure title={words.gates} {...(gates.length > 0 && { note: words.gatesPassed(passed, gates.length) })}>
        <Gates ladder={ladder} />
      </Disclosure>
      <Disclosure title={words.tone}>
        <Tone ladder={ladder} />
      </Disclosure>
      <Disclosure title={words.pose}>
        <Pose ladder={ladder} />
      </Disclosure>
    </>
  )
}
