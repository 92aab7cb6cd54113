import { describe, expect, it } from 'vitest'
import { findSurvivalRange, narrowestAt } from '../../../analysis/dose/survival-range.js'
import { valueOf } from '../../support/outcomes.js'

/** [exposure s, smallest line um, smallest space um] */
const ladder = (rows: [number, (number | null | undefined)?, (number | null)?][]) =>
  rows.map(([exposureS, smallestLineUm, smallestSpaceUm]) => ({ exposureS, smallestLineUm, smallestSpaceUm }))

const typical = ladder([
  [1.6, null, 100],
  [2, 300, 100],
  [2.5, 200, 150],
  [3.1, 150, 200],
  [3.9, 100, 400],
])

it('starts at the first rung from which the line stands and ends at the last at which the space is open', () => {
  const wanted = { wantedLineUm: 200, wantedSpaceUm: 200 }
  expect(valueOf(findSurvivalRange(typical, wanted))).toEqual({ lineFromS: 2.5, spaceUpToS: 3.1 })
  expect(valueOf(findSurvivalRange([...typical].reverse(), wanted))).toEqual({ lineFromS: 2.5, spaceUpToS: 3.1 })
})

it('sets no bound without a demand', () => {
  expect(valueOf(findSurvivalRange(typical, {}))).toEqual({ lineFromS: null, spaceUpToS: null })
})

it('does not grant what lies below a failure, even if a lower rung held', () => {
  const patchy = ladder([
    [1, 200],
    [2, 300],
    [3, 200],
    [4, 200],
  ])
  expect(valueOf(findSurvivalRange(patchy, { wantedLineUm: 200 })).lineFromS).toBe(3)
})

it('passes over rungs that were not read', () => {
  const gaps = ladder([
    [1, undefined, 100],
    [2, 200],
    [3, undefined, 100],
    [4, 150],
  ])
  expect(valueOf(findSurvivalRange(gaps, { wantedLineUm: 200 })).lineFromS).toBe(2)
})

it.each([
  ['wanted-line-lost', { wantedLineUm: 50 }],
  ['wanted-space-lost', { wantedSpaceUm: 50 }],
  ['wanted-features-exclude-each-other', { wantedLineUm: 150, wantedSpaceUm: 150 }],
])('refuses with %s', (code, wanted) => {
  expect(findSurvivalRange(typical, wanted)).toMatchObject({ ok: false, refusal: { code } })
})

it('refuses to judge a sort of feature that no rung shows', () => {
  const outcome = findSurvivalRange(
    ladder([
      [1, 200],
      [2, 200],
    ]),
    { wantedSpaceUm: 200 },
  )
  expect(outcome).toMatchObject({ ok: false, refusal: { code: 'survival-not-read' } })
})

describe('the narrowest features at an exposure', () => {
  it('are the wider of what the rungs about it show', () => {
    expect(narrowestAt(typical, 2.2)).toEqual({ lineUm: 300, spaceUm: 150 })
    expect(narrowestAt(typical, 2.5)).toEqual({ lineUm: 200, spaceUm: 150 })
  })
  it('are none when a rung about it shows none, and unknown beyond the rungs', () => {
    expect(narrowestAt(typical, 1.8)).toEqual({ lineUm: null, spaceUm: 100 })
    expect(narrowestAt(typical, 1)).toEqual({})
  })
})
