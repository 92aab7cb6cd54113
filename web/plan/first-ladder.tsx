import { useState } from 'preact/hooks'
import type { FirstLadderReply, FirstLadderRequest } from '../../server/api/planning.js'
import { planFirstLadder } from '../api-client.js'
import { formatExposure, formatExposures, formatNumber, formatShort } from '../format.js'
import { LadderIcon } from '../icons.js'
import { whyFirst } from '../texts/answers.js'
import { planTexts } from '../texts/plan.js'
import { recall } from '../remembered.js'
import { printAddress } from '../route.js'
import { NumberField } from '../views/number-field.js'
import { Caution, Choice, ToolForm, ToolResult } from './tool-parts.js'
import { umOfMm, useAnswer } from './use-answer.js'
import { ValueTable } from '../views/value-table.js'

const words = planTexts.first
const MINUTE_S = 60
const HOUR_S = 3600

type Planned = FirstLadderReply & Pick<FirstLadderRequest, 'layerHeightUm' | 'known'>

/** Plans the first ladder from what is known of resin and printer. */
export function FirstLadder({ wish }: { wish: URLSearchParams }) {
  const wished = (name: string) => wish.get(name) ?? ''
  const [layerMm, setLayerMm] = useState(recall('layer-mm', '0.05'))
  const [timeStepS, setTimeStepS] = useState(recall('time-step-s', '0.1'))
  const [kind, setKind] = useState<keyof typeof words.kinds>(wish.has('depthUm') ? 'curve' : 'nothing')
  const [setting, setSetting] = useState({ exposureS: '', layerMm: '' })
  const [curve, setCurve] = useState({ depthUm: wished('depthUm'), critical: wished('critical'), irradiance: '' })
  const [times, setTimes] = useState({ between: '', baseLayers: '', baseExposure: '' })
  const { reply, busy, failure, ask } = useAnswer<Planned>()

  const known = (): FirstLadderRequest['known'] => {
    if (kind === 'setting')
      return { kind, exposureS: Number(setting.exposureS), layerUm: umOfMm(setting.layerMm || layerMm) }
    if (kind === 'nothing') return { kind }
    return {
      kind,
      penetrationDepthUm: Number(curve.depthUm),
      criticalDoseMjPerCm2: Number(curve.critical),
      irradianceMwPerCm2: Number(curve.irradiance),
    }
  }
  const work = () =>
    ask(async () => {
      const layerHeightUm = umOfMm(layerMm)
      const request = { layerHeightUm, known: known() }
      const planned = await planFirstLadder({
        ...request,
        ...(timeStepS && { timeStepS: Number(timeStepS) }),
        ...(times.between && { betweenLayersS: Number(times.between) }),
        ...(times.baseLayers && { baseLayers: Number(times.baseLayers) }),
        ...(times.baseExposure && { baseExposureS: Number(times.baseExposure) }),
      })
      return { ...planned, ...request }
    })

  return (
    <>
      <p class="lead">{words.lead}</p>
      <div class="print-body">
        <ToolForm onSubmit={work} busy={busy} failure={failure}>
          <div class="fields">
            <NumberField label={planTexts.layer} value={layerMm} onChange={setLayerMm} min={0.01} max={0.3} required />
            <NumberField label={planTexts.timeStep} value={timeStepS} onChange={setTimeStepS} min={0.01} />
          </div>
          <Choice legend={words.known} names={words.kinds} chosen={kind} choose={setKind} />
          {kind === 'setting' && (
            <div class="fields">
              <NumberField
                label={words.exposure}
                value={setting.exposureS}
                onChange={(exposureS) => setSetting({ ...setting, exposureS })}
                min={0.01}
                max={999}
                required
              />
              <NumberField
                label={words.atLayer}
                value={setting.layerMm || layerMm}
                onChange={(layerMm) => setSetting({ ...setting, layerMm })}
                min={0.01}
                max={0.3}
                required
              />
            </div>
          )}
          {kind === 'curve' && (
            <div class="fields">
              {(['depthUm', 'critical', 'irradiance'] as const).map((name) => (
                <NumberField
                  key={name}
                  label={words[name === 'depthUm' ? 'depth' : name]}
                  value={curve[name]}
                  onChange={(value) => setCurve({ ...curve, [name]: value })}
                  min={0.001}
                  required
                />
              ))}
            </div>
          )}
          <details>
            <summary>{words.times}</summary>
            <div class="fields">
              {(['between', 'baseLayers', 'baseExposure'] as const).map((name) => (
                <NumberField
                  key={name}
                  label={words[name]}
                  value={times[name]}
                  onChange={(value) => setTimes({ ...times, [name]: value })}
                  min={0}
                  whole={name === 'baseLayers'}
                />
              ))}
            </div>
            <p class="hint">{words.empty}</p>
          </details>
        </ToolForm>
        <div class="stack">
          {reply && <Answer reply={reply} />}
          <Caution kind="print" />
        </div>
      </div>
    </>
  )
}

/** The ladder, in the order to print it. */
function Answer({ reply }: { reply: Planned }) {
  const { layerHeightUm, exposuresS, span, printOrder, printTimesS } = reply
  const minutes = (seconds: number) => formatNumber(seconds / MINUTE_S, 0)
  return (
    <ToolResult title={words.result} of={reply}>
      <p class="next-list">{planTexts.list(formatExposures(exposuresS))}</p>
      <p>
        {whyFirst(reply)} {words.span(formatShort(span, 2))}
      </p>
      <a class="button main" href={printAddress({ layerHeightUm, exposuresS })}>
        <LadderIcon />
        {planTexts.printThis}
      </a>
      <p class="hint">{words.order}</p>
      <ValueTable label={words.order} head={Object.values(words.head)}>
        <tbody>
          {printOrder.map((rung, i) => (
            <tr key={rung}>
              <th scope="row">{i + 1}</th>
              <td>{formatExposure(exposuresS[rung - 1] ?? NaN)}</td>
              <td>{rung}</td>
              <td>{minutes(printTimesS[rung - 1] ?? NaN)}</td>
            </tr>
          ))}
        </tbody>
      </ValueTable>
      <p class="hint">{words.total(formatNumber(printTimesS.reduce((sum, time) => sum + time, 0) / HOUR_S, 1))}</p>
    </ToolResult>
  )
}
