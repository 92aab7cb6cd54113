import { expect, it } from 'vitest'
import { refuse } from '../../analysis/index.js'

it('leaves the detail of a refusal out when there is none, so that it survives JSON unchanged', () => {
  const refusal = refuse('slot-empty', 'Lay a coupon on the slot.')
  expect(JSON.parse(JSON.stringify(refusal))).toStrictEqual(refusal)
  expect(refusal.refusal).toStrictEqual({ code: 'slot-empty', advice: 'Lay a coupon on the slot.' })
})
