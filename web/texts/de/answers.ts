import { formatExposures, formatNumber, formatShort } from '../../format.js'
import type { AnswerWords } from '../answer-words.js'

const seconds = (value: number) => `${formatShort(value)} s`
const day = (date: string) => date.slice(0, 10)
const UNITS = { haze: '', surface: '', yellowness: ' je mm', score: ' Punkte' } as const

/** Was Planung und Vergleich antworten. */
export const answers: AnswerWords = {
  firstLadder: (known, layerUm) => {
    if (known.kind === 'nothing') return 'Ein zehnfacher Bereich, weil von Harz und Drucker nichts bekannt ist.'
    if (known.kind === 'curve')
      return 'Von dort, wo Wände nach der Arbeitskurve maßhaltig werden, bis dahin, wo einzelne Schichten haften, mit Spielraum.'
    return known.layerUm === layerUm
      ? 'Ein dreifacher Bereich um die Einstellung eines ähnlichen Harzes.'
      : `Um die Einstellung eines ähnlichen Harzes bei ${known.layerUm} µm, nach beiden Regeln auf ${layerUm} µm übertragen.`
  },
  layerHeight: ({ toUm, depth, depthIs, bond, accumulated, bracketS, confirmingLadderS }) => {
    const [low, high] = [bond.exposureS, accumulated.exposureS].sort((a, b) => a - b) as [number, number]
    return (
      `Zwischen ${seconds(low)} und ${seconds(high)} bei ${toUm} µm Schichthöhe` +
      (depthIs === 'known'
        ? `, für eine Eindringtiefe von ${Math.round(depth.valueUm)} µm.`
        : `: die Eindringtiefe ist nicht bekannt und wurde mit ${depth.intervalUm.join(' bis ')} µm angenommen, möglich sind also ${seconds(bracketS[0])} bis ${seconds(bracketS[1])}.`) +
      ` Zum Entscheiden ${formatExposures(confirmingLadderS)} s drucken.`
    )
  },
  risk: ({ rule, accumulatedDoseRatio, overcureChangeUm }, thinner) => {
    const dose = `Das ${formatNumber(accumulatedDoseRatio, 2)}-fache der summierten Dosis`
    const overcure = `${Math.abs(Math.round(overcureChangeUm))} µm ${overcureChangeUm < 0 ? 'weniger' : 'mehr'} Überhärtung`
    if (rule === 'bond')
      return thinner
        ? `${dose}: Wände können dicker werden, Spalte zugehen, Durchdrucken und Trübung zunehmen.`
        : `${dose}: Wände können dünn werden und schmale umfallen.`
    return thinner
      ? `${overcure}: Schichten können schwach haften und sich trennen, vor allem die ersten.`
      : `${overcure}: sicher für die Haftung, aber erste Schichten und dünne Decken härten tief durch.`
  },
  noOvercure:
    'Die Überhärtung lässt sich aus dem Durchdrucken nicht bestimmen: es ist weniger, als sich das Licht aller Schichten summiert, also geht zwischen den Schichten ein Teil verloren.',
  advice: {
    saturated: 'Die Kurve biegt sich, und diese höchste Dosis liegt unter der Linie der anderen.',
    outlier: 'Er liegt weiter von der Linie der anderen, als Streuung erklärt: noch einmal messen.',
    'soft-gel': 'Seine Dosis liegt kaum über Ec: ein so weiches Gel drückt der Messschieber zusammen.',
  },
  lamp: {
    ageing:
      'Gilt, solange die Lampe nur schwächer wird. Andere Folie, Maske oder Wellenlänge brauchen eine neue Leiter; ändert sie sich um mehr als ein Fünftel, drei Sprossen darum drucken.',
    printer:
      'Ein Anfang für eine Leiter, keine Einstellung: zwischen Aufbauten lag die kritische Dosis desselben Harzes bis 70-fach, die Eindringtiefe bis 7-fach auseinander (24 Labore, Addit. Manuf. 84 (2024) 104082).',
  },
  difference: (
    { first, second, difference, differs, smallestDetectable, couponsNeeded },
    { of, power, wantedDifference },
  ) => {
    const show = (value: number) => `${formatShort(value, 2)}${UNITS[of]}`
    if (differs) {
      const [low, high] = difference.interval.map(Math.abs).sort((a, b) => a - b) as [number, number]
      return `${second} liegt um ${show(Math.abs(difference.value))} ${difference.value > 0 ? 'höher' : 'niedriger'} als ${first} (95 %: ${show(low)} bis ${show(high)}).`
    }
    const none = `${first} und ${second}: kein Unterschied, den so viele Prüflinge zeigen könnten; einer von ${show(smallestDetectable)} hätte sich mit ${Math.round(100 * power)} % Wahrscheinlichkeit gezeigt.`
    if (wantedDifference === undefined || couponsNeeded === undefined) return none
    return couponsNeeded === null
      ? `${none} Mehr Prüflinge auf diesen Fotos zeigten ${show(wantedDifference)} nicht: mehr Fotos machen, mit Prüflingen von beiden auf einer Karte.`
      : `${none} Um ${show(wantedDifference)} zu zeigen, braucht es ${couponsNeeded} Prüflinge von jedem.`
  },
  overTime: ({ group, points, baseline, change, out, ewma }, of) => {
    if (change)
      return `${group} hat sich nach dem ${day(change.after)} um ${formatShort(change.change.value, 2)}${UNITS[of]} geändert.`
    const after = [...out, ...ewma.out].filter((i) => i >= baseline)
    const left = points[Math.min(...after)]
    return left
      ? `${group} verließ am ${day(left.date)} seine Grenzen; wann es sich änderte, zeigen die Messungen noch nicht.`
      : `${group}: keine Änderung, die ${points.length} Fotos zeigen könnten.`
  },
  methods: {
    welch: 'Unterschiede nach Welch, jede Gruppe mit eigener Streuung.',
    pooled: 'Eine Streuung für alle Gruppen.',
    mixed: 'Gemischtes Modell: was Fotos, Flaschen und Prüflinge beitragen, bleibt getrennt.',
    stated:
      'Ein Prüfling je Gruppe: nur die angegebenen Unsicherheiten; wie weit Prüflinge einer Gruppe auseinander liegen, ist nicht bekannt.',
  },
}
