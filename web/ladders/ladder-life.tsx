import { useCallback } from 'preact/hooks'
import type { ComponentChildren } from 'preact'
import type { LadderEntry, NextStep } from '../../server/api/ladders.js'
import { formatTime } from '../format.js'
import { changeLadder, getLadder } from '../records-client.js'
import { helpAddress, laddersAddress } from '../route.js'
import { lifeTexts } from '../texts/life.js'
import { micrometres, millimetres } from '../units.js'
import { useChange, useLoaded } from '../use-loaded.js'
import { FailureNote } from '../views/failure-note.js'
import { PhotoPicker } from '../views/photo-picker.js'
import { FactsForm } from './facts-form.js'
import { LadderAnswer } from './ladder-answer.js'
import { LadderPhotos } from './ladder-photos.js'
import { Cautions, Checklist, Files, PrintOrder } from './print-steps.js'
import { AgeingSection } from '../process/ageing-section.js'
import { rungNames } from '../rung-words.js'

const words = lifeTexts.ladder

/** Which step of its life a ladder is at, by what is to be done next. */
const STEP: Readonly<Record<NextStep, number>> = {
  print: 1,
  photograph: 3,
  wait: 3,
  'read-again': 3,
  'photograph-again': 3,
  accept: 4,
  'print-next': 4,
  done: 5,
}

function Step(props: { number: number; at: number; title: string; children: ComponentChildren }) {
  const { number, at, title, children } = props
  const state = number < at ? 'done' : number === at ? 'now' : 'next'
  return (
    <details class={`panel life-step ${state}`} open={number === at || (at === 1 && number === 2)}>
      <summary>
        <h2>{words.step(number, title)}</h2>
        {state !== 'next' && <span class="summary-note">{state === 'done' ? words.done : words.now}</span>}
      </summary>
      <div class="disclosed">{children}</div>
    </details>
  )
}

/** One ladder from its files to its setting. */
export function LadderLife({ ladderId }: { ladderId: string }) {
  const ask = useCallback(() => getLadder(ladderId), [ladderId])
  const { reply: ladder, setReply, failure, reload } = useLoaded<LadderEntry>(ask, words.failed)
  const away = useChange(words.saveFailed)
  if (failure && !ladder)
    return (
      <section class="panel">
        <h1>{words.missing}</h1>
        <FailureNote failure={failure} />
        <p>{words.missingText}</p>
        <a class="button" href={laddersAddress}>
          {lifeTexts.ladders.title}
        </a>
      </section>
    )
  if (!ladder) return <div class="waiting" aria-busy="true" />
  const { design, facts, origin, createdAt, simulated, archivedAt, next } = ladder
  const at = STEP[next]
  const unknown = origin === 'card' && !simulated && facts.bottleId === undefined && facts.printerId === undefined
  const putAway = (archived: boolean) => away.run(async () => setReply(await changeLadder(ladderId, { archived })))
  return (
    <div class="print">
      <div class="ladder-head">
        <h1>{lifeTexts.ladders.ladder(ladderId)}</h1>
        <p class="hint">
          {words.facts(millimetres(design.layerHeightUm), micrometres(design.pixelPitchUm))} · {rungNames(design)} ·{' '}
          {formatTime(createdAt)}
          {simulated && ' '}
          {simulated && <span class="badge">{lifeTexts.ladders.simulated}</span>}
        </p>
      </div>
      {unknown && (
        <div class="note">
          <p>
            <strong>{words.fromCardTitle}.</strong> {words.fromCardText}
          </p>
        </div>
      )}
      <div class="print-body">
        <div class="stack life-steps">
          <Step number={1} at={at} title={words.filesTitle}>
            <Files design={design} />
          </Step>
          <Step number={2} at={at} title={words.printTitle}>
            <Cautions />
            <PrintOrder design={design} />
            <Checklist ladder={ladder} onChanged={setReply} />
          </Step>
          <Step number={3} at={at} title={words.photographTitle}>
            <p>
              {words.photographText} <a href={helpAddress('light')}>{lifeTexts.start.howTo}</a>
            </p>
            <PhotoPicker />
            <LadderPhotos ladderId={ladderId} />
            {ladder.latest && <AgeingSection ladderId={ladderId} />}
          </Step>
          {ladder.latest && (
            <Step number={4} at={Math.min(at, 4)} title={words.answerTitle}>
              <LadderAnswer ladder={ladder} reload={reload} />
            </Step>
          )}
        </div>
        <div class="stack">
          <FactsForm ladder={ladder} onChanged={setReply} />
          <section class="panel quiet">
            {archivedAt === undefined ? (
              <button type="button" disabled={away.busy} onClick={() => putAway(true)}>
                {words.putAway}
              </button>
            ) : (
              <>
                <p role="status">{words.putAwayDone}</p>
                <button type="button" disabled={away.busy} onClick={() => putAway(false)}>
                  {words.undo}
                </button>
              </>
            )}
            {away.failure && <FailureNote failure={away.failure} />}
          </section>
        </div>
      </div>
    </div>
  )
}
