import { expect, it } from 'vitest'
import { short, withUncertainty } from '../../server/report/numbers.js'
import { readingReport } from '../../server/report/reading-report.js'
import { answered, windowDetail } from '../support/reading-fixture.js'
import { madeUpReading } from './support/made-up-reading.js'

it('shows a value to the second digit of its uncertainty (JCGM 100:2008, 7.2.6)', () => {
  const show = (value: number, standardUncertainty: number) => withUncertainty({ value, standardUncertainty })
  expect(show(10.0573, 0.0276)).toBe('10.057 ± 0.028')
  expect(show(-14.3, 3.21)).toBe('-14.3 ± 3.2')
  expect(show(410.4, 12.3)).toBe('410 ± 12')
  expect(show(5, 0)).toBe('5.0 ± 0.0')
  expect(short(2.3456)).toBe('2.35')
  expect(short(20)).toBe('20')
})

it('prints the answer first, then the rungs, then what could not be read', () => {
  expect(readingReport('bench.jpg', madeUpReading)).toBe(
    `bench.jpg: ladder K7Q2XN, 50 µm layers, 34 µm pixels

  Suggested exposure  2 s, 95 % interval 1.88 to 2.06 s
  Usable range        1.52 to 2.58 s, for growth within 20 µm per side; latitude at least 79 %, 1 : 1.70
  How sure            Fairly sure: two rungs agree within their uncertainty.
  Expected growth     1.2 ± 3.4 µm per side (k = 1)
  Half a step         at 1.95 s growth -0.5 ± 3.4 µm, lines from 214 µm, spaces from 180 µm; at 2.05 s growth 2.9 ± 3.4 µm, haze index 0.053 ± 0.011
  Survives            lines from 211 µm with 95 % chance (95 % interval 160 to 400 or more); spaces from 183 µm with 95 % chance (95 % interval 102 or less to 240)
  Chosen because      dose-to-size, rounded to the time step
  Limited by          growth
  Growth models       straight 66 %, size at 1.97 s (1.89 to 2.05 s); quadratic 24 %, size at 1.96 s (1.85 to 2.07 s); threshold 10 %, no size

  slot  exposure  growth       print-through  smallest line  smallest space  haze index
        s         µm per side  µm             µm             µm
  1     1.6       -14.3 ± 3.2  410 ± 12       200            none            0.052 ± 0.011
  2     2         1.2 ± 3.2    410 ± 12       200            none            0.052 ± 0.011
  3     2.5       not read

  Each ± is a standard uncertainty (k = 1).

  Slot 1: Turn the card away from the lamp. [glare-on-gap]
  Slot 2: Turn the card away from the lamp. [glare-on-gap]
  Slot 3: Move the lamp and photograph again. [glare: window clipped]
  Warning: The card was printed 2 % too small; widths do not depend on it. [card-scaled]`,
  )
})

it('says what to print next when there is no suggestion', () => {
  const { suggestion: _suggestion, ...rest } = madeUpReading
  const report = readingReport('bench.jpg', {
    ...rest,
    noSuggestion: {
      code: 'not-bracketed',
      advice: 'All rungs are too small.',
      nextLadder: { exposuresS: [2.5, 3, 3.6], why: 'longer, to pass the right size' },
    },
  })
  expect(report).toContain('No suggestion  All rungs are too small. [not-bracketed]')
  expect(report).toContain('Print next     2.5, 3, 3.6 s: longer, to pass the right size')
  expect(report).not.toContain('Suggested exposure')
})

it('says what clarity to expect, and how it goes with exposure', () => {
  const curve = [1.6, 2.5].map((exposureS) => ({ exposureS, value: 0.05, low: 0.04, high: 0.06 }))
  const change = { value: 0.0214, standardUncertainty: 0.0052 }
  const report = readingReport('bench.jpg', {
    ...madeUpReading,
    suggestion: {
      ...madeUpReading.suggestion!,
      expectedHaze: { value: 0.052, standardUncertainty: 0.011 },
      expectedYellownessPerMm: { value: 0.0061, standardUncertainty: 0.0006 },
    },
    windowTrends: [
      { of: 'haze', model: 'straight', verdict: 'rises', change, curve },
      { of: 'yellownessPerMm', model: 'straight', verdict: 'no-trend', change, curve },
    ],
  })
  expect(report).toContain('Expected clarity    haze index 0.052 ± 0.011, yellowness 0.0061 ± 0.0006 per mm')
  expect(report).toContain('Haze trend          rises by 0.0214 ± 0.0052 from 1.6 to 2.5 s (k = 1)')
  expect(report).toContain('Yellowness trend    none at 95 %: 0.0214 ± 0.0052 from 1.6 to 2.5 s (k = 1)')
})

it('says in one line why a photograph was not read', () => {
  const refusal = { code: 'no-card', advice: 'Photograph the whole card.', detail: 'no code found' }
  expect(readingReport('desk.jpg', { schema: 'stepglass-reading-1', refusal })).toBe(
    'desk.jpg: not read. Photograph the whole card. [no-card: no code found]',
  )
})

it('prints what the windows show in a table of its own, with its formula', () => {
  const rungs = answered.rungs.map((rung, i) =>
    'growthUm' in rung && i < 2 ? { ...rung, window: windowDetail } : rung,
  )
  const report = readingReport('bench.jpg', { ...answered, rungs })
  expect(report).toContain(`
  slot  surface index  yellowness        delta b*     clarity score  in the window
                       log ratio per mm  of 3 mm
  1     0.230 ± 0.020  0.0110 ± 0.0010   3.10 ± 0.40  84.8 ± 1.4     1 bubble
  2     0.230 ± 0.020  0.0110 ± 0.0010   3.10 ± 0.40  84.8 ± 1.4     1 bubble

  Clarity score = made up.
`)
  expect(report).toContain('not ASTM or ISO values')
  expect(readingReport('bench.jpg', answered)).not.toContain('surface index')
})
