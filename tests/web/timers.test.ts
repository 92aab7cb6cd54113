import { describe, expect, it } from 'vitest'
import {
  advance,
  clock,
  goOn,
  isOver,
  leftS,
  sinceS,
  startTimer,
  waits,
  type TimerCue,
} from '../../web/finish/timers.js'

const stages = [
  { what: 'Light', s: 60, cue: 'turn' },
  { what: 'Rest', s: 30, cue: 'light on', hold: true },
  { what: 'Light', s: 60, cue: 'over' },
]
const cuesOf = (cues: readonly TimerCue[]) => cues.map(({ cue }) => cue)
const start = startTimer('1', 'Post-cure', stages, 1000)

describe('a timer on the wall clock', () => {
  it('counts down, ends a stage with its cue and goes on by itself', () => {
    expect(leftS(start, 31_000)).toBe(30)
    expect(advance(start, 60_999)).toEqual({ timer: start, cues: [] })
    const { timer, cues } = advance(start, 61_000)
    expect(cues).toEqual([{ cue: 'turn', atMs: 61_000 }])
    expect(timer).toMatchObject({ at: 1, endsMs: 91_000 })
    expect(timer.missed).toBeUndefined()
  })

  it('waits for a tap after a stage that holds, however long', () => {
    const { timer, cues } = advance(start, 500_000)
    expect(cuesOf(cues)).toEqual(['turn', 'light on'])
    expect(waits(timer)).toBe(true)
    expect(advance(timer, 900_000).timer).toBe(timer)
    expect(goOn(timer, 900_000).endsMs).toBe(960_000)
  })

  it('loses no time to a page that slept: what follows starts when the stage ended, not when it was looked at', () => {
    expect(advance(start, 75_000).timer.endsMs).toBe(91_000)
  })

  it('ends after its last stage and says so once', () => {
    const held = advance(start, 100_000).timer
    const { timer, cues } = advance(goOn(held, 100_000), 160_000)
    expect([isOver(timer), cuesOf(cues), waits(timer)]).toEqual([true, ['over'], false])
    expect(advance(timer, 999_000).cues).toEqual([])
    expect(goOn(timer, 0)).toEqual(timer)
  })

  it('keeps what was missed with its time, until somebody taps, and tells for how long it waits', () => {
    const { timer } = advance(start, 500_000)
    expect(timer.missed).toEqual([
      { cue: 'turn', atMs: 61_000 },
      { cue: 'light on', atMs: 91_000 },
    ])
    expect(sinceS(timer, 500_000)).toBe(409)
    const on = goOn(timer, 500_000)
    expect([on.missed, on.sinceMs]).toEqual([undefined, undefined])
    // Seen within seconds, nothing was missed; the turn that was stays missed.
    const late = advance(start, 80_000).timer
    expect(advance(late, 91_100).timer.missed).toEqual([{ cue: 'turn', atMs: 61_000 }])
  })
})

it('shows minutes and seconds, and hours when there are some', () => {
  expect([0, 9, 245, 3720].map(clock)).toEqual(['0:00', '0:09', '4:05', '1:02:00'])
})
