import { useCallback, useId, useState } from 'preact/hooks'
import type { LadderRecord, PlanRequest } from '../../server/api/ladders.js'
import { makeLadder } from '../api-client.js'
import { inMarks, listOfNumbers } from '../format.js'
import { LadderIcon } from '../icons.js'
import { getNow } from '../records-client.js'
import { RecordLink } from '../records/record-link.js'
import { recall, remember } from '../remembered.js'
import { planAddress } from '../route.js'
import { texts } from '../texts/page.js'
import { FactorChoice, LevelFields, levelsOf, NO_LEVELS } from '../process/level-fields.js'
import { lifeTexts } from '../texts/life.js'
import { processTexts } from '../texts/process.js'
import { useLoaded } from '../use-loaded.js'
import { FailureNote, toFailure, type Failure } from './failure-note.js'
import { NumberField } from './number-field.js'

const words = texts.print

/** Exposures as typed; nothing if it is not a list of them. */
export function parseExposures(text: string): number[] | undefined {
  const exposuresS = listOfNumbers(text)
  const fine = exposuresS.every((exposureS) => exposureS > 0) && exposuresS.length >= 1 && exposuresS.length <= 8
  return fine ? exposuresS : undefined
}

interface Props {
  readonly wish: URLSearchParams
  readonly onMade: (ladder: LadderRecord) => void
}

/** Asks for printer and exposures; the service works out the ladder. */
export function PlanForm(props: Props) {
  const { reply, failure } = useLoaded(useCallback(getNow, []), words.failed)
  // Without an answer the form starts from what this device remembers.
  return reply || failure ? <Form {...props} last={reply?.last} /> : <div class="waiting" aria-busy="true" />
}

function Form({ wish, onMade, last }: Props & { readonly last: LadderRecord | undefined }) {
  const listId = useId()
  const wishedUm = wish.get('layerHeightUm')
  const layerUm = wishedUm ?? last?.design.layerHeightUm
  const [layerMm, setLayerMm] = useState(layerUm ? String(Number(layerUm) / 1000) : recall('layer-mm', '0.05'))
  const [bottleId, setBottleId] = useState(last?.facts.bottleId ?? '')
  const [printerId, setPrinterId] = useState(last?.facts.printerId ?? '')
  const [temperature, setTemperature] = useState(String(last?.facts.temperatureC ?? ''))
  const [pixelUm, setPixelUm] = useState(
    wish.get('pixelPitchUm') ?? String(last?.design.pixelPitchUm ?? recall('pixel-um', '')),
  )
  const [timeStepS, setTimeStepS] = useState(String(last?.facts.timeStepS ?? recall('time-step-s', '0.1')))
  const [byList, setByList] = useState(wish.has('exposuresS'))
  const [list, setList] = useState(inMarks(wish.get('exposuresS') ?? ''))
  const [range, setRange] = useState({ fromS: '', toS: '', rungs: '6' })
  const [factor, setFactor] = useState<keyof typeof processTexts.factors>('exposure')
  const [levels, setLevels] = useState(NO_LEVELS)
  const [busy, setBusy] = useState(false)
  const [failure, setFailure] = useState<Failure>()

  const plan = async (): Promise<PlanRequest | undefined> => {
    // Typed decimals times 1000 may miss the whole number they mean by a rounding error.
    const facts = {
      ...(bottleId && { bottleId }),
      ...(printerId && { printerId }),
      ...(temperature && { temperatureC: Number(temperature) }),
      ...(Number(timeStepS) > 0 && { timeStepS: Number(timeStepS) }),
    }
    const layerHeightUm = Number((Number(layerMm) * 1000).toFixed(3))
    const printer = { layerHeightUm, pixelPitchUm: Number(pixelUm), facts }
    if (factor !== 'exposure') {
      const wanted = await levelsOf(factor, levels)
      return wanted && { ...printer, exposuresS: [Number(levels.exposureS)], factor, levels: wanted }
    }
    if (!byList) {
      const { fromS, toS, rungs } = range
      const ends = { fromS: Number(fromS), toS: Number(toS), rungs: Number(rungs), timeStepS: Number(timeStepS) }
      return { ...printer, range: ends }
    }
    const exposuresS = parseExposures(list)
    return exposuresS && { ...printer, exposuresS }
  }
  const make = async () => {
    setBusy(true)
    setFailure(undefined)
    try {
      const wanted = await plan()
      if (!wanted) {
        setBusy(false)
        return setFailure({ message: factor === 'exposure' ? words.notANumbers : processTexts.notLevels })
      }
      onMade(await makeLadder(wanted))
      remember({ 'layer-mm': layerMm, 'pixel-um': pixelUm, 'time-step-s': timeStepS })
    } catch (error) {
      setFailure(toFailure(error, words.failed))
    }
    setBusy(false)
  }
  const choice = (label: string, list: boolean) => (
    <label class="choice">
      <input type="radio" name="how" checked={byList === list} onChange={() => setByList(list)} />
      {label}
    </label>
  )
  return (
    <form
      class="panel plan"
      onSubmit={(event) => {
        event.preventDefault()
        void make()
      }}
    >
      <fieldset>
        <legend>{words.printer}</legend>
        <div class="fields">
          <RecordLink kind="bottle" label={lifeTexts.ladder.bottle} value={bottleId} onChange={setBottleId} />
          <RecordLink
            kind="printer"
            label={lifeTexts.ladder.printer}
            value={printerId}
            onChange={setPrinterId}
            onChosen={(content) => {
              setPixelUm(String(content.pixelPitchUm))
              setTimeStepS(String(content.timeStepS))
            }}
          />
          <NumberField
            label={lifeTexts.ladder.temperature}
            value={temperature}
            onChange={setTemperature}
            min={-20}
            max={100}
          />
          <NumberField label={words.layer} value={layerMm} onChange={setLayerMm} min={0.01} max={0.3} required />
          <NumberField
            label={words.pixel}
            hint={words.pixelHint}
            value={pixelUm}
            onChange={setPixelUm}
            min={8}
            max={120}
            required
          />
        </div>
      </fieldset>
      <FactorChoice factor={factor} choose={setFactor} />
      {factor === 'exposure' ? (
        <fieldset>
          <legend>{words.exposures}</legend>
          <div class="choices">
            {choice(words.byRange, false)}
            {choice(words.byList, true)}
          </div>
          {byList ? (
            <div class="field">
              <label for={listId}>{words.list}</label>
              <input
                id={listId}
                type="text"
                inputMode="text"
                value={list}
                required
                aria-describedby={`${listId}-hint`}
                onInput={(event) => setList(event.currentTarget.value)}
              />
              <p class="hint" id={`${listId}-hint`}>
                {words.listHint}
              </p>
            </div>
          ) : (
            <>
              <div class="fields">
                <NumberField
                  label={words.lowest}
                  value={range.fromS}
                  onChange={(fromS) => setRange({ ...range, fromS })}
                  min={0.01}
                  max={999}
                  required
                />
                <NumberField
                  label={words.highest}
                  value={range.toS}
                  onChange={(toS) => setRange({ ...range, toS })}
                  min={0.01}
                  max={999}
                  required
                />
                <NumberField
                  label={words.rungs}
                  value={range.rungs}
                  onChange={(rungs) => setRange({ ...range, rungs })}
                  min={2}
                  max={8}
                  required
                  whole
                />
                <NumberField label={words.timeStep} value={timeStepS} onChange={setTimeStepS} min={0.01} required />
              </div>
              <p class="hint">
                {words.firstTime} <a href={planAddress('first-ladder')}>{words.firstLadder}</a>
              </p>
            </>
          )}
        </fieldset>
      ) : (
        <LevelFields factor={factor} values={levels} change={setLevels} />
      )}
      {failure && <FailureNote failure={failure} />}
      <button class="main" disabled={busy}>
        <LadderIcon />
        {busy ? words.making : words.make}
      </button>
    </form>
  )
}
