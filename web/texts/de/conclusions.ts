import { formatRange } from '../../format.js'
import type { ConclusionWords } from '../conclusion-words.js'

/** Was ein Vorschlag sagt. */
export const conclusions: ConclusionWords = {
  rules: {
    'dose-to-size': 'Maßbelichtung: die Belichtung, bei der Linien so breit werden wie gezeichnet.',
    survival:
      'Die Belichtung, die der Maßbelichtung am nächsten liegt und bei der die gewünschten Wände und Spalte überleben.',
    yellowness:
      'Die Belichtung, die der Maßbelichtung am nächsten liegt und bei der die Gelbfärbung ihre Grenze einhalten dürfte.',
    clarity: 'Die klarste Belichtung, die das Wachstum mit 95 % Sicherheit innerhalb der Toleranz hält.',
  },
  limits: {
    walls: 'die dünnste gewünschte Wand, die erst ab hier sicher steht',
    gaps: 'der schmalste gewünschte Spalt, der nur bis hier sicher offen bleibt',
    haze: 'die Trübung und ihr Gang mit der Belichtung',
    yellowness: 'die gewünschte Grenze der Gelbfärbung',
    growth: 'das Wachstum, gemessen an der Toleranz',
    readings: 'was auf diesen Sprossen von den gewünschten Wänden und Spalten zu lesen war',
  },
  next: {
    again: 'derselbe Bereich noch einmal, mit genug Sprossen, um einige zu verlieren',
    lower: 'reicht von der untersten Sprosse bis unter die Stelle, auf die der Verlauf zeigt',
    higher: 'reicht von der obersten Sprosse bis über die Stelle, auf die der Verlauf zeigt',
    wider: 'weit genug, dass sich Wachstum zeigt; in diesem Bereich war keines zu sehen',
    opened: 'niedriger, weil Prüflinge geschlossen herauskamen',
    surer: 'verkleinert den Zweifel an der Maßbelichtung am meisten',
  },
  confidence: (sought, intervalS, { reachesEnd, rungs, mostlyShared, caliperTabs }) => {
    const what = sought === 'dose-to-size' ? 'die Maßbelichtung' : 'die Belichtung mit diesem Wachstum'
    const cut = [
      ...(reachesEnd.low ? ['unter der untersten Sprosse'] : []),
      ...(reachesEnd.high ? ['über der obersten Sprosse'] : []),
    ]
    return (
      `Mit 95 % Sicherheit liegt ${what} im Bereich ${formatRange(intervalS)} s` +
      (cut.length > 0 ? ` oder ${cut.join(' oder ')}, wo diese Leiter nichts sagen kann` : '') +
      `, nach ${rungs.small + rungs.big} Sprossen, von denen ${rungs.small} zu klein und ${rungs.big} zu groß sind` +
      (mostlyShared
        ? '; den größten Teil des Zweifels verschiebt das ganze Foto gemeinsam: Tinte, Kanten, Kamera.'
        : '.') +
      (caliperTabs === 0
        ? ' Kein Messschieber an den Beinen verankert sie.'
        : ` ${caliperTabs === 1 ? 'Ein Messwert' : `${caliperTabs} Messwerte`} mit dem Messschieber an den Beinen ${caliperTabs === 1 ? 'verankert' : 'verankern'} sie.`)
    )
  },
}
