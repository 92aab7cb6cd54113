import { useState } from 'preact/hooks'
import type { PostCureBody, PostCureReply } from '../../server/api/finish.js'
import { planPostCure } from '../api-client.js'
import { Choice, ToolForm } from '../plan/tool-parts.js'
import { useAnswer } from '../plan/use-answer.js'
import { NumberField } from '../views/number-field.js'
import { Cautions } from './cautions.js'
import { finishTexts } from '../texts/finish.js'
import { PostCureAnswer } from './post-cure-answer.js'
import { cautionsOf, useSteps } from './use-steps.js'

const words = finishTexts.cure

/** Stages of light and rest for a lamp, a part and a limit. */
export function PostCure() {
  const { steps } = useSteps()
  const [lamp, setLamp] = useState<keyof typeof words.lampKinds>('irradiance')
  const [lampValue, setLampValue] = useState({ irradiance: '', power: '' })
  const [kind, setKind] = useState<keyof typeof words.wantedKinds>('other-lamp')
  const [wanted, setWanted] = useState({ minutes: '', power: '', dose: '' })
  const [part, setPart] = useState({ thickness: '', aroundC: '22', limit: '', depth: '' })
  const [around, setAround] = useState<keyof typeof words.arounds>('still-air')
  const [sides, setSides] = useState<keyof typeof words.sidesKinds>('one')
  const { reply, busy, failure, ask } = useAnswer<PostCureReply>()
  const byPower = lamp === 'power' || kind === 'other-lamp'

  const wantedOf = (): PostCureBody['wanted'] => {
    if (kind === 'dose') return { kind, doseJPerCm2: Number(wanted.dose) }
    if (kind === 'time') return { kind, minutes: Number(wanted.minutes) }
    return { kind, minutes: Number(wanted.minutes), powerW: Number(wanted.power) }
  }
  const work = () =>
    ask(() =>
      planPostCure({
        lamp: {
          ...(lamp === 'irradiance' && { irradianceMwPerCm2: Number(lampValue.irradiance) }),
          ...(byPower && { powerW: Number(lampValue.power) }),
        },
        wanted: wantedOf(),
        thicknessMm: Number(part.thickness),
        surroundings: around,
        surroundingsC: Number(part.aroundC),
        bothSides: sides === 'both',
        ...(part.limit && { limitC: Number(part.limit) }),
        ...(part.depth && { penetrationMm: Number(part.depth) }),
      }),
    )

  return (
    <>
      <p class="lead">{words.lead}</p>
      <div class="print-body">
        <ToolForm onSubmit={work} busy={busy} failure={failure}>
          <Choice legend={words.lamp} names={words.lampKinds} chosen={lamp} choose={setLamp} />
          <div class="fields">
            {lamp === 'irradiance' && (
              <NumberField
                label={words.irradiance}
                value={lampValue.irradiance}
                onChange={(irradiance) => setLampValue({ ...lampValue, irradiance })}
                min={0.01}
                max={5000}
                required
              />
            )}
            {byPower && (
              <NumberField
                label={words.power}
                value={lampValue.power}
                onChange={(power) => setLampValue({ ...lampValue, power })}
                min={0.1}
                max={5000}
                required
              />
            )}
          </div>
          <Choice legend={words.wanted} names={words.wantedKinds} chosen={kind} choose={setKind} />
          <div class="fields">
            {kind === 'dose' ? (
              <NumberField
                label={words.dose}
                value={wanted.dose}
                onChange={(dose) => setWanted({ ...wanted, dose })}
                min={0.01}
                required
              />
            ) : (
              <NumberField
                label={words.minutes}
                value={wanted.minutes}
                onChange={(minutes) => setWanted({ ...wanted, minutes })}
                min={0.1}
                max={600}
                required
              />
            )}
            {kind === 'other-lamp' && (
              <NumberField
                label={words.otherPower}
                value={wanted.power}
                onChange={(power) => setWanted({ ...wanted, power })}
                min={0.1}
                required
              />
            )}
          </div>
          <Choice legend={words.around} names={words.arounds} chosen={around} choose={setAround} />
          <Choice legend={words.sides} names={words.sidesKinds} chosen={sides} choose={setSides} />
          <div class="fields">
            <NumberField
              label={words.thickness}
              value={part.thickness}
              onChange={(thickness) => setPart({ ...part, thickness })}
              min={0.1}
              max={200}
              required
            />
            <NumberField
              label={words.aroundC}
              value={part.aroundC}
              onChange={(aroundC) => setPart({ ...part, aroundC })}
              min={0}
              max={80}
              required
            />
            <NumberField
              label={words.limit}
              hint={words.limitHint}
              value={part.limit}
              onChange={(limit) => setPart({ ...part, limit })}
              min={1}
              max={150}
            />
          </div>
          <details>
            <summary>{words.more}</summary>
            <NumberField
              label={words.depth}
              hint={words.depthHint}
              value={part.depth}
              onChange={(depth) => setPart({ ...part, depth })}
              min={0.01}
            />
          </details>
        </ToolForm>
        <div class="stack">
          {reply && <PostCureAnswer reply={reply} />}
          <Cautions cautions={reply?.cautions ?? cautionsOf(steps, 'post-cure')} />
        </div>
      </div>
    </>
  )
}
