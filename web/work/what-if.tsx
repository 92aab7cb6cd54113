import { useState } from 'preact/hooks'
import type { ReadLadder } from '../../server/api/readings.js'
import { toDigits } from '../format.js'
import '../style/what-if.css'
import { FailureNote } from '../views/failure-note.js'
import { workTexts } from '../texts/work.js'
import { ExpectedFigures } from './expected-figures.js'
import { ExpectedPlace, ExpectedValues, SurvivalTable } from './expected-values.js'
import { SliderField } from './slider-field.js'
import { useExpected } from './use-expected.js'

const words = workTexts.whatIf
const LAYERS_MM = [0.01, 0.3] as const
const EXPOSURES_S = [0.01, 999] as const
/** The slider goes this far beyond the rungs. */
const BEYOND = 1.25

/** Exposure and layer height to play with, and what the ladder lets one expect of them. */
export function WhatIf({ ladder, readingId }: { ladder: ReadLadder; readingId: string }) {
  const { design, suggestion, doseToSize, rungs } = ladder
  const exposures = rungs.map((rung) => rung.exposureS)
  const [lowS, highS] = [Math.min(...exposures), Math.max(...exposures)]
  const [exposureS, setExposureS] = useState(suggestion?.exposureS ?? doseToSize?.exposureS ?? lowS)
  const [layerMm, setLayerMm] = useState(design.layerHeightUm / 1000)
  const layerUm = Number((layerMm * 1000).toFixed(3))
  const { expected, failure } = useExpected(readingId, exposureS, layerUm)
  const step = highS > 10 ? 0.1 : 0.05
  return (
    <>
      <p class="hint">{words.lead}</p>
      <div class="sliders">
        <SliderField
          label={words.exposure}
          value={toDigits(exposureS, 4)}
          onChange={setExposureS}
          from={Number((Math.floor(lowS / BEYOND / step) * step).toFixed(2))}
          to={Number((Math.ceil((highS * BEYOND) / step) * step).toFixed(2))}
          step={step}
          limits={EXPOSURES_S}
        />
        <SliderField
          label={words.layer}
          value={layerMm}
          onChange={setLayerMm}
          from={0.01}
          to={Math.max(0.12, design.layerHeightUm / 1000)}
          step={0.005}
          limits={LAYERS_MM}
        />
      </div>
      {failure && <FailureNote failure={failure} />}
      {expected ? (
        <>
          <ExpectedPlace expected={expected} ladder={ladder} />
          <ExpectedValues expected={expected} />
          <ExpectedFigures expected={expected} ladder={ladder} />
          <SurvivalTable expected={expected} />
        </>
      ) : (
        <div class="waiting" aria-busy="true" />
      )}
    </>
  )
}
