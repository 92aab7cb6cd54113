import type { PrepareReply } from '../../server/api/finish.js'
import { planPreparation } from '../api-client.js'
import { formatShort } from '../format.js'
import { ToolForm, ToolResult } from '../plan/tool-parts.js'
import { useAnswer } from '../plan/use-answer.js'
import { FactList, type Fact } from '../views/fact-list.js'
import { RefusalList } from '../views/refusal-list.js'
import { AssumedList } from './assumed-list.js'
import { Cautions } from './cautions.js'
import { finishTexts } from '../texts/finish.js'
import { ResinChoice } from './resin-choice.js'
import { SheetField } from './sheet-field.js'
import { useSheetFields } from './sheet-fields.js'
import { beginTimer } from './timer-store.js'
import { useResin } from './use-resin.js'
import { cautionsOf, useSteps } from './use-steps.js'

const words = finishTexts.prepare

/** What the resin's temperature does, and how long it stands. */
export function Prepare() {
  const { steps } = useSteps()
  const resin = useResin()
  const { fromC, toC, viscosityMPaS, viscosityAtC, standMin } = resin.sheet
  const fields = useSheetFields(
    resin.resinId,
    { viscosity: viscosityMPaS, at: viscosityAtC, from: fromC, to: toC },
    { resin: '', from: '20', to: '35', viscosity: '', at: '', depth: '100', bubble: '' },
  )
  const { reply, busy, failure, ask } = useAnswer<PrepareReply>()
  const number = (name: Parameters<typeof fields.valueOf>[0]) => Number(fields.valueOf(name))
  const work = () =>
    ask(() =>
      planPreparation({
        resinC: number('resin'),
        windowC: [number('from'), number('to')],
        ...(fields.valueOf('viscosity') && { viscosityMPaS: number('viscosity') }),
        ...(fields.valueOf('at') && { viscosityAtC: number('at') }),
        depthMm: number('depth'),
        ...(fields.valueOf('bubble') && { bubbleUm: number('bubble') }),
      }),
    )
  return (
    <>
      <p class="lead">{words.lead}</p>
      <div class="print-body">
        <ToolForm onSubmit={work} busy={busy} failure={failure}>
          <ResinChoice resin={resin} />
          <div class="fields">
            <SheetField fields={fields} name="resin" label={words.resin} required />
            <SheetField
              fields={fields}
              name="from"
              label={words.from}
              hint={words.windowHint}
              min={0}
              max={80}
              required
            />
            <SheetField fields={fields} name="to" label={words.to} hint={words.windowHint} min={0} max={80} required />
            <SheetField fields={fields} name="viscosity" label={words.viscosity} hint={words.viscosityHint} min={1} />
            <SheetField fields={fields} name="at" label={words.at} hint={words.atHint} min={0} />
            <SheetField fields={fields} name="depth" label={words.depth} min={1} required />
            <SheetField fields={fields} name="bubble" label={words.bubble} hint={words.bubbleHint} min={1} />
          </div>
        </ToolForm>
        <div class="stack">
          {reply && <Answer reply={reply} sheetMin={standMin} />}
          <Cautions cautions={cautionsOf(steps, 'prepare')} />
        </div>
      </div>
    </>
  )
}

function Answer({ reply, sheetMin }: { reply: PrepareReply; sheetMin: number | undefined }) {
  const { viscosityRatio, bestC, standMin, standWarmMin, warnings } = reply
  const longest = Math.max(standMin?.[1] ?? 0, sheetMin ?? 0)
  const range = ([low, high]: readonly [number, number], unit = '') =>
    finishTexts.range(formatShort(low, 2), formatShort(high, 2), unit)
  const stand = (name: string, minutes: readonly [number, number] | undefined): Fact[] =>
    minutes ? [[name, range(minutes, words.minutes)]] : []
  return (
    <ToolResult title={words.result} of={reply}>
      <p class="next-list">{words.thick(range(viscosityRatio), formatShort(bestC))}</p>
      <FactList
        facts={[
          ...stand(words.stand, standMin),
          ...stand(words.standWarm, standWarmMin),
          ...(sheetMin === undefined ? [] : [[words.standSheet, `${formatShort(sheetMin)}${words.minutes}`] as const]),
        ]}
      />
      {longest > 0 && (
        <button
          type="button"
          class="main"
          onClick={() =>
            beginTimer(words.timerName, [{ what: words.timerName, s: Math.ceil(longest * 60), cue: words.cue }])
          }
        >
          {words.timer}
        </button>
      )}
      <AssumedList assumed={reply.assumed} />
      {warnings.length > 0 && (
        <div class="note">
          <RefusalList refusals={warnings} />
        </div>
      )}
    </ToolResult>
  )
}
