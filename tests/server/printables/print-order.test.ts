import { expect, it } from 'vitest'
import { printOrder } from '../../../server/printables/index.js'

const slots = [1, 2, 3, 4, 5, 6]
const seeds = Array.from({ length: 6000 }, (_, i) => `seed ${i}`)

it('prints every rung once, in an order that the seed decides', () => {
  const order = printOrder(slots, 'K7Q2XN')
  expect([...order].sort()).toEqual(slots)
  expect(printOrder(slots, 'K7Q2XN')).toEqual(order)
  expect(new Set(seeds.slice(0, 50).map((seed) => printOrder(slots, seed).join())).size).toBeGreaterThan(40)
})

it('gives every rung every turn equally often', () => {
  const counts = slots.map(() => slots.map(() => 0))
  for (const seed of seeds) for (const [turn, slot] of printOrder(slots, seed).entries()) counts[slot - 1]![turn]!++
  // A rung has a given turn in one of six orders: binomial, 1000 of 6000 expected, standard deviation 29. All 36 counts lie
  // within four of these but for 1 set of seeds in 400; these seeds are always the same.
  const standardDeviation = Math.sqrt(6000 * (1 / 6) * (5 / 6))
  for (const count of counts.flat()) expect(Math.abs(count - 1000)).toBeLessThan(4 * standardDeviation)
})
