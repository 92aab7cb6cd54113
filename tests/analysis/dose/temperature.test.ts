import { expect, it } from 'vitest'
import { temperatureWarnings } from '../../../analysis/dose/temperature.js'

const codes = (...ladders: number[]) => temperatureWarnings(ladders).map(({ code }) => code)

it('warns of resin that is colder or hotter than usual, and of ladders that differ', () => {
  expect(codes(25)).toEqual([])
  expect(codes(20, 23)).toEqual([])
  expect(codes(15)).toEqual(['resin-cold'])
  expect(codes(40)).toEqual(['resin-hot'])
  expect(codes(22, 28)).toEqual(['temperatures-differ'])
  expect(codes()).toEqual([])
})

it('says by how much curing speeds up: a tenth from 25 to 30 degrees', () => {
  // Arrhenius, 15 kJ/mol: exp(15000 / 8.314 (1/298.15 - 1/303.15)) = 1.105.
  const [warning] = temperatureWarnings([25, 30])
  expect(warning!.detail).toContain('roughly 10 %')
})
