import type { SettingSheet, SideBySide } from '../api/sheets.js'
import { sheetWords } from './sheet-words.js'

/** Named in every sheet, and never the same. */
const OWN = new Set(['Made', 'Measured'])

/** Two sheets side by side, with what their difference means. */
export function sideBySide(first: SettingSheet, second: SettingSheet): SideBySide {
  const [a, b] = [first, second].map((sheet) => {
    const { exposure, range, facts } = sheetWords(sheet)
    return new Map<string, string>([['Layer exposure', exposure], ['How far off', range], ...facts])
  }) as [Map<string, string>, Map<string, string>]
  const names = [...new Set([...a.keys(), ...b.keys()])]
  return {
    rows: names.map((what) => ({
      what,
      ...(a.has(what) && { first: a.get(what)! }),
      ...(b.has(what) && { second: b.get(what)! }),
      differs: !OWN.has(what) && a.get(what) !== b.get(what),
    })),
    ...meaning(first, second),
  }
}

type Meaning = Pick<SideBySide, 'verdict' | 'exposureRatio' | 'inWords'>

function meaning(first: SettingSheet, second: SettingSheet): Meaning {
  const exposureRatio = second.exposureS / first.exposureS
  const percent = `${Math.abs(100 * (exposureRatio - 1)).toFixed(0)} %`
  const compared =
    exposureRatio === 1
      ? 'Both expose alike'
      : `The second exposes ${percent} ${exposureRatio > 1 ? 'longer' : 'shorter'}`
  const verdict = verdictOf(first, second)
  return { verdict, exposureRatio, inWords: `${compared}${VERDICTS[verdict]}` }
}

const VERDICTS: Readonly<Record<SideBySide['verdict'], string>> = {
  'other-layer-height': ', at another layer height: the two say nothing of each other without a ladder.',
  'no-interval': '; one of them has no interval, so nothing says whether that is a difference.',
  overlap: '; their 95 % intervals overlap, so they may well agree.',
  apart: '; their 95 % intervals lie apart: bottle, printer, lamp or temperature differ.',
}

function verdictOf(first: SettingSheet, second: SettingSheet): SideBySide['verdict'] {
  if (first.layerHeightUm !== second.layerHeightUm) return 'other-layer-height'
  const [p, q] = [first.intervalS, second.intervalS]
  if (!p || !q) return 'no-interval'
  return p[0] <= q[1] && q[0] <= p[1] ? 'overlap' : 'apart'
}
