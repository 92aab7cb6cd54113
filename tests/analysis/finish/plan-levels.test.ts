import { expect, it } from 'vitest'
import { planLevels } from '../../../analysis/finish/plan-levels.js'

it('halves what levels off from the highest down, and keeps the lowest', () => {
  expect(planLevels('post-cure-time', 0, 40, 6)).toEqual(['0', '2.5', '5', '10', '20', '40'])
})

it('spaces a trend evenly, and stages in whole numbers, each once', () => {
  expect(planLevels('resin-temperature', 20, 30, 6)).toEqual(['20', '22', '24', '26', '28', '30'])
  expect(planLevels('post-cure-stages', 1, 3, 6)).toEqual(['1', '2', '3'])
})

it('throws for ends that do not go up and for rungs a card has no room for', () => {
  expect(() => planLevels('age', 5, 5, 3)).toThrow(RangeError)
  expect(() => planLevels('age', 0, 5, 9)).toThrow(RangeError)
})
