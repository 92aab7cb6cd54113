import { useRef, useState } from 'preact/hooks'
import type { ReadingReply, ReadLadder } from '../../server/api/readings.js'
import { formatExposure, formatTime } from '../format.js'
import { WarningIcon } from '../icons.js'
import { ladderAddress } from '../route.js'
import { lifeTexts } from '../texts/life.js'
import { ProcessAnswer } from '../process/process-answer.js'
import { ProcessSections } from '../process/process-sections.js'
import { texts } from '../texts/page.js'
import { micrometres, millimetres } from '../units.js'
import { AboutPhoto } from './about-photo.js'
import { Answer } from './answer.js'
import { CaliperForm } from './caliper-form.js'
import { CombinedSection } from './combined-section.js'
import { GrowthSection } from './growth-section.js'
import { NoAnswer } from './no-answer.js'
import { OptionsForm } from './options-form.js'
import { PhotoMap } from './photo-map.js'
import { PrintThroughSection } from './print-through-section.js'
import { RefusalList } from './refusal-list.js'
import { RungTable } from './rung-table.js'
import { ShowWork } from './show-work.js'
import { SimulatedNote } from './simulated-note.js'
import { HazeSection, SurvivalSection } from './window-section.js'
import { rungNames } from '../rung-words.js'

/** The slot looked at first: the one nearest to what is suggested. */
function firstSlot({ rungs, suggestion, doseToSize }: ReadLadder): number {
  const target = suggestion?.exposureS ?? doseToSize?.exposureS
  const off = (exposureS: number) => (target === undefined ? 0 : Math.abs(Math.log(exposureS / target)))
  const [nearest] = rungs.filter((rung) => 'growthUm' in rung).sort((a, b) => off(a.exposureS) - off(b.exposureS))
  return (nearest ?? rungs[0])?.slot ?? 1
}

interface Props {
  readonly reading: ReadingReply
  readonly ladder: ReadLadder
  /** Loads the reading once more: it is being made anew. */
  readonly reload: () => void
  /** Loads it again without a blank page in between. */
  readonly refresh: () => void
}

/** What a photograph says of a ladder: the answer first, then what it rests on. */
export function LadderView({ reading, ladder, reload, refresh }: Props) {
  const { design, warnings } = ladder
  const [slot, setSlot] = useState(() => firstSlot(ladder))
  const photo = useRef<HTMLElement>(null)
  const showSlot = (wanted: number) => {
    setSlot(wanted)
    photo.current?.focus({ preventScroll: true })
    photo.current?.scrollIntoView()
  }
  return (
    <div class="ladder">
      <div class="ladder-head">
        <h1>
          <a href={ladderAddress(design.ladderId)}>{texts.reading.title(design.ladderId)}</a>
        </h1>
        <p class="hint">
          {formatTime(reading.createdAt)} ·{' '}
          {texts.reading.facts(millimetres(design.layerHeightUm), micrometres(design.pixelPitchUm))}
          {design.factor && ` · ${formatExposure(design.exposuresS[0] ?? NaN)} s · ${rungNames(design)}`}
        </p>
      </div>
      {reading.simulated && <SimulatedNote />}
      {reading.leftOut.length > 0 && <p class="note warning">{lifeTexts.leftOut.some(reading.leftOut.length)}</p>}
      <div class="ladder-top">
        <div class="stack">
          <Answer ladder={ladder} />
          {ladder.process && <ProcessAnswer process={ladder.process} />}
          {ladder.noSuggestion && <NoAnswer design={design} reason={ladder.noSuggestion} />}
          {warnings.length > 0 && (
            <section class="note warning" aria-labelledby="warnings">
              <h2 id="warnings">
                <WarningIcon />
                {texts.warnings.title}
              </h2>
              <RefusalList refusals={warnings} />
            </section>
          )}
          <CombinedSection ladderId={design.ladderId} />
          {!ladder.process && (
            <>
              <CaliperForm reading={reading} ladder={ladder} reload={reload} />
              <OptionsForm reading={reading} reload={reload} />
            </>
          )}
        </div>
        <div class="stack">
          <ProcessSections ladder={ladder} />
          {!ladder.process && <GrowthSection ladder={ladder} />}
          {!ladder.process && <PrintThroughSection ladder={ladder} />}
          <HazeSection ladder={ladder} />
          <SurvivalSection ladder={ladder} />
        </div>
      </div>
      <PhotoMap reading={reading} ladder={ladder} slot={slot} setSlot={setSlot} reload={refresh} sectionRef={photo} />
      <RungTable ladder={ladder} showSlot={showSlot} />
      {!ladder.process && <ShowWork ladder={ladder} readingId={reading.readingId} />}
      <AboutPhoto ladder={ladder} readingId={reading.readingId} />
    </div>
  )
}
