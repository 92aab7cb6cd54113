import type { ReadLadder } from '../../server/api/readings.js'
import { later } from '../later.js'
import { texts } from '../texts.js'
import { Disclosure } from './disclosure.js'

const Gates = later(async () => (await import('../work/gates.js')).Gates)
const Tone = later(async () => (await import('../work/tone.js')).Tone)
const Pose = later(async () => (await import('../work/pose.js')).Pose)

/** What a reading rests on, each part opened on demand. */
export function ShowWork({ ladder }: { ladder: ReadLadder }) {
  const words = texts.work
  const { gates } = ladder
  const passed = gates.filter((gate) => gate.passed).length
  return (
    <>
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
