import { useState } from 'preact/hooks'
import type { PrepareReply } from '../../server/api/finish.js'
import { planPreparation } from '../api-client.js'
import { formatShort } from '../format.js'
import { ToolForm, ToolResult } from '../plan/tool-parts.js'
import { useAnswer } from '../plan/use-answer.js'
import { FactList, type Fact } from '../views/fact-list.js'
import { NumberField } from '../views/number-field.js'
import { RefusalList } from '../views/refusal-list.js'
import { Cautions } from './cautions.js'
import { finishTexts } from '../texts/finish.js'
import { beginTimer } from './timer-store.js'
import { cautionsOf, useSteps } from './use-steps.js'

const words = finishTexts.prepare

/** What the resin's temperature does, and how long it stands. */
export function Prepare() {
  const { steps } = useSteps()
  const [typed, setTyped] = useState({ resin: '', viscosity: '', at: '25', depth: '100', bubble: '300' })
  const { reply, busy, failure, ask } = useAnswer<PrepareReply>()
  const work = () =>
    ask(() =>
      planPreparation({
        resinC: Number(typed.resin),
        ...(typed.viscosity && { viscosityMPaS: Number(typed.viscosity), viscosityAtC: Number(typed.at) }),
        depthMm: Number(typed.depth),
        bubbleUm: Number(typed.bubble),
      }),
    )
  const field = (name: keyof typeof typed, more: { hint?: string; min?: number; required?: boolean }) => (
    <NumberField
      label={words[name]}
      value={typed[name]}
      onChange={(value) => setTyped({ ...typed, [name]: value })}
      {...more}
    />
  )
  return (
    <>
      <p class="lead">{words.lead}</p>
      <div class="print-body">
        <ToolForm onSubmit={work} busy={busy} failure={failure}>
          <div class="fields">
            {field('resin', { required: true })}
            {field('viscosity', { hint: words.viscosityHint, min: 1 })}
            {field('at', {})}
            {field('depth', { min: 1, required: true })}
            {field('bubble', { min: 1, required: true })}
          </div>
        </ToolForm>
        <div class="stack">
          {reply && <Answer reply={reply} />}
          <Cautions cautions={reply?.cautions ?? cautionsOf(steps, 'prepare')} />
        </div>
      </div>
    </>
  )
}

function Answer({ reply }: { reply: PrepareReply }) {
  const { viscosityRatio, bestC, standMin, standWarmMin, warnings } = reply
  const range = ([low, high]: readonly [number, number], unit = '') =>
    finishTexts.range(formatShort(low, 2), formatShort(high, 2), unit)
  const stand = (name: string, minutes: readonly [number, number] | undefined): Fact[] =>
    minutes ? [[name, range(minutes, words.minutes)]] : []
  return (
    <ToolResult title={words.result} of={reply}>
      <p class="next-list">{words.thick(range(viscosityRatio), formatShort(bestC))}</p>
      <FactList facts={[...stand(words.stand, standMin), ...stand(words.standWarm, standWarmMin)]} />
      {standMin && (
        <button
          type="button"
          class="main"
          onClick={() =>
            beginTimer(words.timerName, [{ what: words.timerName, s: Math.ceil(standMin[1] * 60), cue: words.cue }])
          }
        >
          {words.timer}
        </button>
      )}
      {warnings.length > 0 && (
        <div class="note">
          <RefusalList refusals={warnings} />
        </div>
      )}
    </ToolResult>
  )
}
