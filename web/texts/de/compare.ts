import type { Words } from '../../language.js'
import type { compare as english } from '../en/compare.js'

/** Die Wörter der Seite, die Prüflinge vergleicht. */
export const compare: Words<typeof english> = {
  title: 'Prüflinge vergleichen',
  lead: 'Welche Flasche, welcher Drucker, welche Nachbehandlung ist klarer, und ist der Unterschied mehr als Rauschen?',
  readings: 'Fotos',
  none: 'Noch wurde kein Foto gelesen.',
  by: 'Vergleichen nach',
  of: 'Was verglichen wird',
  go: 'Vergleichen',
  failed: 'Das ließ sich nicht vergleichen.',
  labelOf: (ladderId, by) => `${by} der Leiter ${ladderId}`,
  labelHint: 'Leer lassen, was bei der Leiter schon verzeichnet ist.',
  bys: {
    bottle: 'Flasche',
    batch: 'Charge',
    printer: 'Drucker',
    exposure: 'Belichtung',
    'post-cure': 'Nachhärtung',
    finish: 'Oberfläche',
    ladder: 'Leiter',
    level: 'Stufe der Leiter',
  },
  ofs: {
    haze: 'Trübungsindex (relativ)',
    surface: 'Oberflächenindex (relativ)',
    yellowness: 'Vergilbung je mm (relativ)',
    score: 'Klarheitswert',
  },
  result: 'Was die Prüflinge sagen',
  chart: (of, groups) => `${of}, Mittel mit 95-%-Bereich und jeder Prüfling: ${groups}`,
  matrix: 'Unterschiede',
  matrixHint: 'Spalte minus Zeile, mit Bereich; alle Bereiche gelten zusammen mit 95 %. * mehr als Rauschen.',
  group: 'Gruppe',
  mean: 'Mittel ± 95 %',
  coupons: 'Prüflinge',
  photos: 'Fotos',
  notes: 'Gut zu wissen',
  date: 'Datum',
  overTime: (group) => `${group} im Lauf der Zeit`,
  overTimeChart: (of, words) => `${of} im Lauf der Zeit mit Grenzen. ${words}`,
  overTimeKey:
    'Punkte: einzelne Fotos, gestrichelt: ihre Grenzen von drei Standardabweichungen. Linie: gleitendes Mittel, Band: dessen Grenzen. Ein Ring zeigt, was außerhalb liegt.',
}
