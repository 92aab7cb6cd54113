import type { ReadLadder } from '../../server/api/readings.js'
import { resultUrl } from '../api-client.js'
import { formatNumber, formatShort } from '../format.js'
import { texts } from '../texts/page.js'
import { inInches, inMil } from '../units.js'
import { FactList, type Fact } from './fact-list.js'

/** How the photo was read, for whoever looks closer. */
export function AboutPhoto({ ladder, readingId }: { ladder: ReadLadder; readingId: string }) {
  const words = texts.about
  const { card, tone, photo, growthFit } = ladder
  const facts: Fact[] = [
    [words.size, words.sizeValue(photo.widthPx, photo.heightPx)],
    [words.scale, words.scaleValue(formatNumber(card.umPerPx, 1))],
    [words.tilt, words.degrees(formatNumber(card.tiltDeg, 1))],
    [words.distance, `${words.mm(formatNumber(card.cameraDistanceMm, 0))}${inInches(card.cameraDistanceMm)}`],
    [words.marks, words.marksValue(card.fiducialsFound, card.fiducialsExpected)],
    [words.fit, `${words.fitValue(formatNumber(card.residualUm, 0))}${inMil(card.residualUm)}`],
    [words.tone, formatNumber(tone.exponent, 2)],
    [words.inkGain, `${words.um(formatNumber(tone.inkGainUm, 0))}${inMil(tone.inkGainUm)}`],
    ...(growthFit?.candidates ?? []).map(
      ({ model, weight, doseToSize }) =>
        [
          words.model(words.models[model]),
          words.modelShare(formatNumber(100 * weight, 0), doseToSize && formatShort(doseToSize.exposureS)),
        ] as const,
    ),
  ]
  return (
    <details class="panel quiet">
      <summary>{words.title}</summary>
      <FactList facts={facts} compact />
      <p>
        <a href={resultUrl(readingId)}>{words.fullResult}</a>
      </p>
    </details>
  )
}
