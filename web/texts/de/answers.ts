import { formatExposures, formatNumber, formatShort, inMarks, toWidthOf } from '../../format.js'
import type { AnswerWords } from '../answer-words.js'
import { sheetSentence } from './sheet-sentences.js'

const seconds = (value: number) => `${formatShort(value)} s`
const day = (date: string) => date.slice(0, 10)
const UNITS = { haze: '', surface: '', yellowness: ' je mm', score: ' Punkte' } as const

const BESIDE = {
  'other-layer-height': ', bei anderer Schichthöhe: ohne Leiter sagen die beiden nichts übereinander.',
  'no-interval': '; eine von beiden hat keinen Bereich, also sagt nichts, ob das ein Unterschied ist.',
  overlap: '; ihre 95-%-Bereiche überlappen, sie können also gut übereinstimmen.',
  apart: '; ihre 95-%-Bereiche liegen auseinander: Flasche, Drucker, Lampe oder Temperatur sind verschieden.',
} as const

/** Wie die Angaben eines Blattes heißen. */
const SHEET_NAMES: Readonly<Record<string, string>> = {
  'Layer exposure': 'Schichtbelichtung',
  'How far off': 'Wie weit daneben',
  'Layer height': 'Schichthöhe',
  Resin: 'Harz',
  Bottle: 'Flasche',
  Printer: 'Drucker',
  'Resin temperature': 'Harztemperatur',
  'Usable range': 'Brauchbarer Bereich',
  'Lines stand from': 'Wände stehen ab',
  'Spaces stay open from': 'Spalte bleiben offen ab',
  'Haze index': 'Trübungsindex',
  Yellowness: 'Gelbfärbung',
  'How sure': 'Wie sicher',
  'Chosen because': 'Gewählt, weil',
  'Limited by': 'Begrenzt durch',
  Measured: 'Gemessen',
  Note: 'Notiz',
  Made: 'Erstellt',
}
/** Was jemand geschrieben hat oder das Blatt selbst sagt, bleibt, wie es ist. */
const QUOTED = new Set([
  'Resin',
  'Bottle',
  'Printer',
  'How sure',
  'Chosen because',
  'Limited by',
  'Measured',
  'Note',
  'Made',
])
const SHEET_PHRASES = [
  [
    'with no interval: nothing says how far it may be off',
    'ohne Bereich: nichts sagt, wie weit sie daneben liegen kann',
  ],
  ['between ', 'zwischen '],
  [' and ', ' und '],
  [' s with 95 % confidence', ' s mit 95 % Sicherheit'],
  ['; perhaps wider, where the ladder ended', '; vielleicht weiter, wo die Leiter endete'],
  [' s for growth within ', ' s für Wachstum innerhalb '],
  [' per side', ' je Seite'],
  [', with 95 % chance', ', mit 95 % Wahrscheinlichkeit'],
  [', seen on the coupon nearest in exposure', ', gesehen am Prüfling der nächsten Belichtung'],
  [' (k = 1; our own index, not a standard’s haze)', ' (k = 1; unser eigener Index, keine genormte Trübung)'],
  [' per mm (k = 1; log ratio of red to blue)', ' je mm (k = 1; Logarithmus von Rot zu Blau)'],
  [' to ', ' bis '],
] as const

/** Was Planung, Vergleich und das Weitergeben antworten. */
export const answers: AnswerWords = {
  firstLadder: (known, layerUm) => {
    if (known.kind === 'nothing') return 'Ein zehnfacher Bereich, weil von Harz und Drucker nichts bekannt ist.'
    if (known.kind === 'curve')
      return 'Von dort, wo Wände nach der Arbeitskurve maßhaltig werden, bis dahin, wo einzelne Schichten haften, mit Spielraum.'
    return known.layerUm === layerUm
      ? 'Ein dreifacher Bereich um die Einstellung eines ähnlichen Harzes.'
      : `Um die Einstellung eines ähnlichen Harzes bei ${formatShort(known.layerUm)} µm, nach beiden Regeln auf ${formatShort(layerUm)} µm übertragen.`
  },
  layerHeight: ({ toUm, depth, depthIs, bond, accumulated, bracketS, confirmingLadderS }) => {
    const [low, high] = [bond.exposureS, accumulated.exposureS].sort((a, b) => a - b) as [number, number]
    return (
      `Zwischen ${seconds(low)} und ${seconds(high)} bei ${formatShort(toUm)} µm Schichthöhe` +
      (depthIs === 'known'
        ? `, für eine Eindringtiefe von ${Math.round(depth.valueUm)} µm.`
        : `: die Eindringtiefe ist nicht bekannt und wurde mit ${depth.intervalUm.map((um) => formatShort(um)).join(' bis ')} µm angenommen, möglich sind also ${seconds(bracketS[0])} bis ${seconds(bracketS[1])}.`) +
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
      const borne = (value: number) => `${toWidthOf([low, high])(value)}${UNITS[of]}`
      return `${second} liegt um ${borne(Math.abs(difference.value))} ${difference.value > 0 ? 'höher' : 'niedriger'} als ${first} (95 %: ${borne(low)} bis ${borne(high)}).`
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
  adapted: ({ byIrradiance, threeRungsS }) => {
    const rungs = `${formatExposures(threeRungsS)} s drucken, fotografieren und nehmen, was sie sagen.`
    return byIrradiance
      ? `Für dieselbe Dosis: etwa ${seconds(byIrradiance.exposureS)}. ${answers.lamp.printer} ${rungs}`
      : `Ohne die Bestrahlungsstärke beider Drucker gibt es keinen besseren Anfang als die Belichtung selbst. ${rungs}`
  },
  beside: ({ verdict, exposureRatio }) => {
    const percent = formatNumber(Math.abs(100 * (exposureRatio - 1)), 0)
    const compared =
      exposureRatio === 1
        ? 'Beide belichten gleich'
        : `Die zweite belichtet ${percent} % ${exposureRatio > 1 ? 'länger' : 'kürzer'}`
    return `${compared}${BESIDE[verdict]}`
  },
  sheetName: (name) => SHEET_NAMES[name] ?? name,
  sheetValue: (name, value) =>
    sheetSentence(value) ??
    (QUOTED.has(name)
      ? value
      : inMarks(SHEET_PHRASES.reduce((said, [english, german]) => said.replaceAll(english, german), value))),
  verified: ({ state, fingerprint, knownAs }) => {
    if (state === 'unsigned')
      return 'Nicht signiert: jeder kann es geschrieben oder geändert haben. Den fragen, der es geschickt hat.'
    if (state === 'changed') return 'Nach dem Signieren geändert: nicht verwenden.'
    return knownAs === undefined
      ? `Unverändert, seit es mit dem Schlüssel ${fingerprint} signiert wurde, der hier nicht bekannt ist: den Ersteller bitten, ihn vorzulesen, und ihm dann einen Namen geben.`
      : `Unverändert, seit ${knownAs} es signiert hat (Schlüssel ${fingerprint}).`
  },
  methods: {
    welch: 'Unterschiede nach Welch, jede Gruppe mit eigener Streuung.',
    pooled: 'Eine Streuung für alle Gruppen.',
    mixed: 'Gemischtes Modell: was Fotos, Flaschen und Prüflinge beitragen, bleibt getrennt.',
    stated:
      'Ein Prüfling je Gruppe: nur die angegebenen Unsicherheiten; wie weit Prüflinge einer Gruppe auseinander liegen, ist nicht bekannt.',
  },
}
