import { useState } from 'preact/hooks'
import type { LampReply, LampRequest } from '../../server/api/planning.js'
import { changeLamp } from '../api-client.js'
import { formatExpanded, formatRange, formatShort } from '../format.js'
import { cautionOf } from '../texts/answers.js'
import { planTexts } from '../texts/plan.js'
import { FactList } from '../views/fact-list.js'
import { NumberField } from '../views/number-field.js'
import { Caution, Choice, ToolForm, ToolResult } from './tool-parts.js'
import { useAnswer } from './use-answer.js'

const words = planTexts.lamp

/** Dose of an exposure, and the exposure for it under another irradiance. */
export function Lamp({ wish }: { wish: URLSearchParams }) {
  const wished = (name: string) => wish.get(name) ?? ''
  const [exposureS, setExposureS] = useState(wished('exposureS'))
  const [ends, setEnds] = useState({ low: wished('lowS'), high: wished('highS') })
  const [fromMw, setFromMw] = useState('')
  const [toMw, setToMw] = useState('')
  const [doubt, setDoubt] = useState('5')
  const [reason, setReason] = useState<keyof typeof words.reasons>('ageing')
  const { reply, busy, failure, refuse, ask } = useAnswer<LampReply & Pick<LampRequest, 'reason'>>()

  const work = () => {
    const both = ends.low !== '' && ends.high !== ''
    if (both ? Number(ends.low) > Number(ends.high) : ends.low !== ends.high) return refuse(words.intervalMissing)
    const irradiance = (typed: string) => ({
      mwPerCm2: Number(typed),
      ...(doubt && { relativeUncertainty: Number(doubt) / 100 }),
    })
    ask(async () => {
      const changed = await changeLamp({
        exposureS: Number(exposureS),
        ...(both && { intervalS: [Number(ends.low), Number(ends.high)] }),
        from: irradiance(fromMw),
        to: irradiance(toMw),
        reason,
      })
      return { ...changed, reason }
    })
  }

  return (
    <>
      <p class="lead">{words.lead}</p>
      <div class="print-body">
        <ToolForm onSubmit={work} busy={busy} failure={failure}>
          <div class="fields">
            <NumberField
              label={words.exposure}
              value={exposureS}
              onChange={setExposureS}
              min={0.01}
              max={999}
              required
            />
            <NumberField label={words.low} value={ends.low} onChange={(low) => setEnds({ ...ends, low })} min={0.001} />
            <NumberField
              label={words.high}
              hint={words.intervalHint}
              value={ends.high}
              onChange={(high) => setEnds({ ...ends, high })}
              min={0.001}
            />
          </div>
          <Choice legend={words.reason} names={words.reasons} chosen={reason} choose={setReason} />
          <div class="fields">
            <NumberField label={words.from} value={fromMw} onChange={setFromMw} min={0.001} required />
            <NumberField label={words.to} value={toMw} onChange={setToMw} min={0.001} required />
            <NumberField
              label={words.doubt}
              hint={words.doubtHint}
              value={doubt}
              onChange={setDoubt}
              min={0}
              max={100}
            />
          </div>
        </ToolForm>
        <div class="stack">
          <Caution kind="light" />
          {reply && (
            <ToolResult title={words.result} of={reply}>
              <p class="next-list">{words.exposureValue(formatShort(reply.exposureS))}</p>
              <p>{planTexts.interval(formatRange(reply.intervalS), 's')}</p>
              <FactList facts={[[words.dose, words.doseValue(formatExpanded(reply.doseMjPerCm2))]]} />
              <p>{cautionOf(reply)}</p>
            </ToolResult>
          )}
        </div>
      </div>
    </>
  )
}
