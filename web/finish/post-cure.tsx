import { useState } from 'preact/hooks'
import type { PostCureBody, PostCureReply } from '../../server/api/finish.js'
import type { Resin } from '../../server/api/records.js'
import { planPostCure } from '../api-client.js'
import { formatShort } from '../format.js'
import { Choice, ToolForm } from '../plan/tool-parts.js'
import { useAnswer } from '../plan/use-answer.js'
import { Cautions } from './cautions.js'
import { finishTexts } from '../texts/finish.js'
import { PostCureAnswer } from './post-cure-answer.js'
import { ResinChoice } from './resin-choice.js'
import { SheetField } from './sheet-field.js'
import { useSheetFields } from './sheet-fields.js'
import { useResin } from './use-resin.js'
import { cautionsOf, useSteps } from './use-steps.js'

const words = finishTexts.cure

type Kind = keyof typeof words.wantedKinds

/** How the data sheet says how much light; nothing where it does not. */
function kindOf({ postCureJPerCm2, postCureMin, postCureLampW }: Partial<Resin>): Kind | undefined {
  if (postCureJPerCm2 !== undefined) return 'dose'
  if (postCureMin === undefined) return undefined
  return postCureLampW === undefined ? 'time' : 'other-lamp'
}

/** Hottest that the sheet allows: its limit of post-cure, never past where the part softens. */
function hottestOf({ postCureMaxC, softensC }: Partial<Resin>): number | undefined {
  if (postCureMaxC === undefined || softensC === undefined) return postCureMaxC ?? softensC
  return Math.min(postCureMaxC, softensC)
}

/** Stages of light and rest for a lamp, a part and a limit. */
export function PostCure() {
  const { steps } = useSteps()
  const resin = useResin()
  const { sheet } = resin
  const fields = useSheetFields(
    resin.resinId,
    {
      minutes: sheet.postCureMin,
      otherPower: sheet.postCureLampW,
      dose: sheet.postCureJPerCm2,
      limit: hottestOf(sheet),
    },
    {
      ...{ irradiance: '', power: '', minutes: '', otherPower: '', dose: '' },
      ...{ thickness: '', aroundC: '22', limit: '', depth: '' },
    },
  )
  const [lamp, setLamp] = useState<keyof typeof words.lampKinds>('irradiance')
  const [chosenKind, setKind] = useState<Kind>()
  const [around, setAround] = useState<keyof typeof words.arounds>('still-air')
  const [sides, setSides] = useState<keyof typeof words.sidesKinds>('one')
  const { reply, busy, failure, ask } = useAnswer<PostCureReply>()
  const kind = chosenKind ?? kindOf(sheet) ?? 'other-lamp'
  const byPower = lamp === 'power' || kind === 'other-lamp'
  const number = (name: Parameters<typeof fields.valueOf>[0]) => Number(fields.valueOf(name))

  const wantedOf = (): PostCureBody['wanted'] => {
    if (kind === 'dose') return { kind, doseJPerCm2: number('dose') }
    if (kind === 'time') return { kind, minutes: number('minutes') }
    return { kind, minutes: number('minutes'), powerW: number('otherPower') }
  }
  const work = () =>
    ask(() =>
      planPostCure({
        lamp: {
          ...(lamp === 'irradiance' && { irradianceMwPerCm2: number('irradiance') }),
          ...(byPower && { powerW: number('power') }),
        },
        wanted: wantedOf(),
        thicknessMm: number('thickness'),
        surroundings: around,
        surroundingsC: number('aroundC'),
        bothSides: sides === 'both',
        ...(fields.valueOf('limit') && { limitC: number('limit') }),
        ...(fields.valueOf('depth') && { penetrationMm: number('depth') }),
      }),
    )

  return (
    <>
      <p class="lead">{words.lead}</p>
      <div class="print-body">
        <ToolForm onSubmit={work} busy={busy} failure={failure}>
          <ResinChoice resin={resin} />
          <Choice legend={words.lamp} names={words.lampKinds} chosen={lamp} choose={setLamp} />
          <div class="fields">
            {lamp === 'irradiance' && (
              <SheetField fields={fields} name="irradiance" label={words.irradiance} min={0.01} max={5000} required />
            )}
            {byPower && <SheetField fields={fields} name="power" label={words.power} min={0.1} max={5000} required />}
          </div>
          {sheet.postCureNm !== undefined && <p class="hint">{words.colour(formatShort(sheet.postCureNm))}</p>}
          <Choice legend={words.wanted} names={words.wantedKinds} chosen={kind} choose={setKind} />
          <div class="fields">
            {kind === 'dose' ? (
              <SheetField fields={fields} name="dose" label={words.dose} min={0.01} required />
            ) : (
              <SheetField fields={fields} name="minutes" label={words.minutes} min={0.1} max={600} required />
            )}
            {kind === 'other-lamp' && (
              <SheetField fields={fields} name="otherPower" label={words.otherPower} min={0.1} required />
            )}
          </div>
          <Choice legend={words.around} names={words.arounds} chosen={around} choose={setAround} />
          <Choice legend={words.sides} names={words.sidesKinds} chosen={sides} choose={setSides} />
          <div class="fields">
            <SheetField fields={fields} name="thickness" label={words.thickness} min={0.1} max={200} required />
            <SheetField fields={fields} name="aroundC" label={words.aroundC} min={0} max={80} required />
            <SheetField fields={fields} name="limit" label={words.limit} hint={words.limitHint} min={1} max={150} />
          </div>
          <details>
            <summary>{words.more}</summary>
            <SheetField fields={fields} name="depth" label={words.depth} hint={words.depthHint} min={0.01} />
          </details>
        </ToolForm>
        <div class="stack">
          {reply && <PostCureAnswer reply={reply} />}
          <Cautions cautions={cautionsOf(steps, 'post-cure')} />
        </div>
      </div>
    </>
  )
}
