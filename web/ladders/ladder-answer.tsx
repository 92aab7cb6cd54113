import type { LadderEntry } from '../../server/api/ladders.js'
import type { Setting } from '../../server/api/records.js'
import { formatExposure, formatExposures, formatRange } from '../format.js'
import { LadderIcon } from '../icons.js'
import { addRecord } from '../records-client.js'
import { printAddress, readingAddress, recordsAddress } from '../route.js'
import { lifeTexts } from '../texts/life.js'
import { confidenceOf, whyNext } from '../texts/conclusions.js'
import { texts } from '../texts/page.js'
import { adviceOf, titleOf } from '../texts/reasons.js'
import { useChange } from '../use-loaded.js'
import { FailureNote } from '../views/failure-note.js'
import { ProcessAnswer } from '../process/process-answer.js'

const words = lifeTexts.ladder

interface Props {
  readonly ladder: LadderEntry
  readonly reload: () => void
}

/** The setting that the newest answer of a ladder would be. */
function settingOf({ design, facts, latest, simulated }: LadderEntry): Setting | undefined {
  const suggestion = latest?.outcome?.suggestion
  if (!latest || !suggestion) return undefined
  return {
    exposureS: suggestion.exposureS,
    intervalS: suggestion.intervalS,
    layerHeightUm: design.layerHeightUm,
    origin: 'own',
    ladderId: design.ladderId,
    readingId: latest.readingId,
    ...(simulated && { simulated }),
    ...(facts.bottleId !== undefined && { bottleId: facts.bottleId }),
    ...(facts.printerId !== undefined && { printerId: facts.printerId }),
    ...(facts.temperatureC !== undefined && { temperatureC: facts.temperatureC }),
  }
}

/** The answer of a ladder: to be accepted, or to be followed by the next ladder. */
export function LadderAnswer({ ladder, reload }: Props) {
  const { design, latest, next, simulated } = ladder
  const { busy, failure, run } = useChange(words.saveFailed)
  const outcome = latest?.outcome
  if (!latest || !outcome) return null
  const { suggestion, noSuggestion, refusal, process } = outcome
  const setting = settingOf(ladder)
  const following = suggestion?.nextLadder ?? noSuggestion?.nextLadder
  const { layerHeightUm, pixelPitchUm } = design
  return (
    <>
      {suggestion && (
        <>
          <p class="big">
            <span class="number">{formatExposure(suggestion.exposureS)}</span>{' '}
            <span class="unit">{texts.answer.unit}</span>
          </p>
          <p class="interval">{texts.answer.interval(formatRange(suggestion.intervalS))}</p>
          <p class="confidence">{confidenceOf(suggestion)}</p>
        </>
      )}
      {process && <ProcessAnswer process={process} inside />}
      {[noSuggestion, refusal].map(
        (reason) =>
          reason && (
            <p key={reason.code}>
              <strong>{titleOf(reason.code)}.</strong> {adviceOf(reason)}
            </p>
          ),
      )}
      {simulated && <p class="hint">{words.simulatedAnswer}</p>}
      {failure && <FailureNote failure={failure} />}
      <div class="buttons">
        {setting && next === 'accept' && (
          <button
            type="button"
            class="main"
            disabled={busy}
            onClick={() =>
              run(async () => {
                await addRecord('setting', setting)
                reload()
              })
            }
          >
            {words.accept(formatExposure(setting.exposureS))}
          </button>
        )}
        <a class="button" href={readingAddress(latest.readingId)}>
          {words.openReading}
        </a>
      </div>
      {next === 'done' && !process && (
        <p role="status">
          <strong>{lifeTexts.next.done}.</strong> <a href={recordsAddress('setting')}>{words.acceptedText}</a>
        </p>
      )}
      {following && (
        <div class="following">
          <h3>{words.nextLadder}</h3>
          <p class="next-list">{texts.noAnswer.nextList(formatExposures(following.exposuresS))}</p>
          <p class="hint">{whyNext(following)}</p>
          <a class="button" href={printAddress({ layerHeightUm, pixelPitchUm, exposuresS: following.exposuresS })}>
            <LadderIcon />
            {texts.noAnswer.print}
          </a>
        </div>
      )}
    </>
  )
}
