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
    inWords: meaning(first, second),
  }
}

function meaning(first: SettingSheet, second: SettingSheet): string {
  const ratio = second.exposureS / first.exposureS
  const percent = `${Math.abs(100 * (ratio - 1)).toFixed(0)} %`
  const compared =
    ratio === 1 ? 'Both expose alike' : `The second exposes ${percent} ${ratio > 1 ? 'longer' : 'shorter'}`
  if (first.layerHeightUm !== second.layerHeightUm)
    return `${compared}, at another layer height: the two say nothing of each other without a ladder.`
  const [p, q] = [first.intervalS, second.intervalS]
  if (!p || !q) return `${compared}; one of them has no interval, so nothing says whether that is a difference.`
  return p[0] <= q[1] && q[0] <= p[1]
    ? `${compared}; their 95 % intervals overlap, so they may well agree.`
    : `${compared}; their 95 % intervals lie apart: bottle, printer, lamp or temperature differ.`
}
