import { useId, useState } from 'preact/hooks'
import type { WorkingCurveReply } from '../../server/api/planning.js'
import { fitWorkingCurve } from '../api-client.js'
import { planTexts } from '../texts/plan.js'
import { NumberField } from '../views/number-field.js'
import { Caution, ToolForm, ToolResult } from './tool-parts.js'
import { useAnswer } from './use-answer.js'
import { CurveAnswer } from './working-curve-answer.js'

const words = planTexts.curve

/** Fits a working curve to a table pasted from a spreadsheet. */
export function WorkingCurve() {
  const id = useId()
  const [table, setTable] = useState('')
  const [irradiance, setIrradiance] = useState('')
  const [forDepth, setForDepth] = useState('')
  const { reply, busy, failure, ask } = useAnswer<WorkingCurveReply>()
  const work = () =>
    ask(() =>
      fitWorkingCurve({
        table,
        ...(irradiance && { irradianceMwPerCm2: Number(irradiance) }),
        ...(forDepth && { forDepthUm: Number(forDepth) }),
      }),
    )
  return (
    <>
      <p class="lead">{words.lead}</p>
      <div class="print-body">
        <ToolForm onSubmit={work} busy={busy} failure={failure}>
          <div class="field">
            <label for={id}>{words.table}</label>
            <textarea
              id={id}
              rows={9}
              required
              spellcheck={false}
              value={table}
              aria-describedby={`${id}-hint`}
              onInput={(event) => setTable(event.currentTarget.value)}
            />
            <p class="hint" id={`${id}-hint`}>
              {words.tableHint}
            </p>
          </div>
          <div class="fields">
            <NumberField
              label={words.irradiance}
              hint={words.irradianceHint}
              value={irradiance}
              onChange={setIrradiance}
              min={0.001}
            />
            <NumberField
              label={words.forDepth}
              hint={words.forDepthHint}
              value={forDepth}
              onChange={setForDepth}
              min={1}
            />
          </div>
        </ToolForm>
        <div class="stack">
          <Caution kind="cure" />
          {reply && (
            <ToolResult title={words.result} of={reply}>
              <CurveAnswer reply={reply} />
            </ToolResult>
          )}
        </div>
      </div>
    </>
  )
}
