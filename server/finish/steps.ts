import type { StepsReply } from '../api/finish.js'

/**
 * A step of the route of a part: what to do, why, and how long. Waits are common practice, no source: the data sheet
 * comes first.
 */
type FinishStep = Omit<StepsReply['steps'][number], 'cautions'>

/** From bottle to shelf, in order. */
export const FINISH_STEPS: readonly FinishStep[] = [
  {
    name: 'prepare',
    title: 'Prepare',
    why: 'Cold resin flows badly and holds bubbles; bits of cured resin in the vat scatter light and mark the film.',
    checks: [
      'Vat emptied through a fine filter, film clean, dry and without a dent',
      'Bottle turned gently, not shaken: shaking makes bubbles',
      'Resin and room at 25 to 30 °C',
      'Resin stood until the bubbles have left',
    ],
    waits: [{ what: 'Resin stands', minutes: 30 }],
    measure: ['Resin °C', 'Room °C', 'Bottle, batch'],
  },
  {
    name: 'print',
    title: 'Print',
    why: 'All later steps only keep the clarity that the exposure gave.',
    checks: ['Exposure from the latest ladder of this bottle', 'Clear faces upright or flat, not in between'],
    waits: [],
    measure: ['Exposure s', 'Layer mm'],
  },
  {
    name: 'drain',
    title: 'Drain',
    why: 'Resin that stays on the part goes into the wash, and what the wash leaves cures to a milky skin.',
    checks: ['Part tilted so that hollows empty', 'Drips back into the vat through a filter, not into the bottle'],
    waits: [{ what: 'Part drains', minutes: 15 }],
    measure: [],
  },
  {
    name: 'wash',
    title: 'Wash',
    why: 'Too short leaves a sticky film; too long lets solvent into the part, which swells, cracks and turns white.',
    checks: ['First bath: used liquid', 'Second bath: clean liquid', 'Hollows rinsed, no shine of wet resin left'],
    waits: [
      { what: 'First bath', minutes: 3 },
      { what: 'Second bath', minutes: 2 },
    ],
    measure: ['Liquid, how old'],
  },
  {
    name: 'dry',
    title: 'Dry',
    why: 'Solvent that is cured in leaves white veils; it must leave before the light comes.',
    checks: ['Blown off away from face and flame', 'Face looks even, feels neither cold nor sticky'],
    waits: [{ what: 'Part dries', minutes: 30 }],
    measure: [],
  },
  {
    name: 'post-cure',
    title: 'Post-cure',
    why: 'Light in stages hardens the part; heat warps and yellows it, and more light than needed yellows too.',
    checks: ['Stages and turns as planned', 'Part turned at each cue', 'Part hand-warm at most between stages'],
    waits: [],
    measure: ['Hottest °C', 'Light min', 'mW/cm²'],
  },
  {
    name: 'smooth',
    title: 'Smooth',
    why: 'Every scratch scatters. Each grit must take away all marks of the one before, or they come back in the polish.',
    checks: [
      'Wet, each grit across the marks of the last',
      'Washed between grits: one coarse grain undoes the next',
      'Wet test: what water hides, a coat will hide',
    ],
    waits: [],
    measure: ['Last grit', 'Haze index'],
  },
  {
    name: 'coat',
    title: 'Coat or dip',
    why: 'A coat of nearly the index of the resin makes the scratches below it vanish; its own face must level.',
    checks: [
      'Face clean, dry, without dust',
      'Tried on a coupon first: some varnish crazes resin',
      'Thin, level, covered while it dries',
    ],
    waits: [{ what: 'Coat levels and dries', minutes: 60 }],
    measure: ['Coats', 'Haze index'],
  },
  {
    name: 'age',
    title: 'Keep and look again',
    why: 'Resin parts yellow for months; a coupon of the same bottle kept beside the part tells by how much.',
    checks: [
      'Bottle closed, dark, 15 to 30 °C',
      'Coupon with date kept in the dark',
      'Measured after a day, a month and half a year',
    ],
    waits: [],
    measure: ['Yellowness after a day', 'after a month', 'after half a year'],
  },
]
