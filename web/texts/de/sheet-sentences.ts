import type { Suggestion } from '../conclusion-words.js'
import { conclusions } from './conclusions.js'

/** Wie die Messung sagt, warum sie eine Belichtung gewählt hat. */
const RULES: Readonly<Record<string, NonNullable<Suggestion['chosenBy']>>> = {
  'Dose-to-size: the exposure at which lines come out as wide as drawn.': 'dose-to-size',
  'The exposure nearest to dose-to-size at which the wanted features survive.': 'survival',
  'The exposure nearest to dose-to-size at which yellowness is expected to keep its limit.': 'yellowness',
  'The clearest exposure that keeps growth within tolerance with 95 % confidence.': 'clarity',
}

const CONFIDENCE = new RegExp(
  '^With 95 % confidence (?<sought>.+) lies between (?<low>[\\d.]+) and (?<high>[\\d.]+) s \\([^)]*\\)' +
    '(?<cut> or .+, where this ladder cannot tell)?, from \\d+ rungs, (?<small>\\d+) of them too small and (?<big>\\d+) too big' +
    '(?:\\.|(?<shared>; most of the doubt .+ camera\\.))' +
    '(?: No caliper .+| (?<tabs>One|\\d+) caliper readings? anchors? it\\.)$',
)

/** Womit gemessen wurde. */
const METHODS = [
  [/^Entered by hand; nothing was measured with it\.$/, 'Von Hand eingegeben; gemessen wurde dazu nichts.'],
  [
    /^Read from a bottle label, which holds the setting alone\.$/,
    'Von einem Flaschenetikett, auf dem nur die Einstellung steht.',
  ],
  [
    /^One photograph of a ladder of (\d+) coupons, (\d+) of them read: .+; Stepglass\.$/,
    'Ein Foto einer Leiter von $1 Prüflingen, davon $2 gelesen: Breiten von Rillen und Wänden, angepasst an den Logarithmus der Belichtung; Stepglass.',
  ],
] as const

/** Ein Satz, den die Messung schrieb und ein Blatt so weitergibt; nichts, wo er anders lautet. */
export function sheetSentence(english: string): string | undefined {
  const rule = RULES[english]
  if (rule) return conclusions.rules[rule]
  const method = METHODS.find(([pattern]) => pattern.test(english))
  if (method) return english.replace(method[0], method[1])
  const said = CONFIDENCE.exec(english)?.groups
  if (!said) return undefined
  const { sought, low, high, cut = '', small, big, shared, tabs } = said
  return conclusions.confidence(sought === 'dose-to-size' ? 'dose-to-size' : 'survival', [Number(low), Number(high)], {
    reachesEnd: { low: cut.includes('below'), high: cut.includes('above') },
    rungs: { small: Number(small), big: Number(big) },
    mostlyShared: shared !== undefined,
    caliperTabs: tabs === undefined ? 0 : tabs === 'One' ? 1 : Number(tabs),
  })
}
