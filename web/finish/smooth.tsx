import { useState } from 'preact/hooks'
import type { SmoothReply } from '../../server/api/finish.js'
import { planSmoothing } from '../api-client.js'
import { formatShort } from '../format.js'
import { Choice, ToolForm, ToolResult } from '../plan/tool-parts.js'
import { umOfMm, useAnswer } from '../plan/use-answer.js'
import { recall } from '../remembered.js'
import { FactList } from '../views/fact-list.js'
import { NumberField } from '../views/number-field.js'
import { RefusalList } from '../views/refusal-list.js'
import { ValueTable } from '../views/value-table.js'
import { AssumedList } from './assumed-list.js'
import { Cautions } from './cautions.js'
import { finishTexts } from '../texts/finish.js'
import { ResinChoice } from './resin-choice.js'
import { SheetField } from './sheet-field.js'
import { useSheetFields } from './sheet-fields.js'
import { ToRoute } from './to-route.js'
import { useResin } from './use-resin.js'
import { cautionsOf, useSteps } from './use-steps.js'

const words = finishTexts.smooth

/** Grits from layer steps to clear, bare or under a coat. */
export function Smooth() {
  const { steps } = useSteps()
  const [wall, setWall] = useState({ layerMm: recall('layer-mm', '0.05'), angle: '45', pixel: '' })
  const [scale, setScale] = useState<keyof typeof words.scales>('P')
  const [after, setAfter] = useState<keyof typeof words.coats>('coat')
  const resin = useResin()
  const fields = useSheetFields(
    resin.resinId,
    { index: resin.sheet.refractiveIndex },
    { coatIndex: '1.5', index: '', accepted: '5', ratio: '2' },
  )
  const { reply, busy, failure, ask } = useAnswer<SmoothReply>()
  const number = (name: 'coatIndex' | 'index' | 'accepted' | 'ratio') => Number(fields.valueOf(name))
  const work = () =>
    ask(() =>
      planSmoothing({
        layerUm: umOfMm(wall.layerMm),
        wallDegrees: Number(wall.angle),
        ...(wall.pixel && { pixelUm: Number(wall.pixel) }),
        scale,
        ratio: number('ratio'),
        ...(fields.valueOf('index') && { index: number('index') }),
        acceptedHaze: number('accepted') / 100,
        ...(after === 'coat' && { coatIndex: number('coatIndex') }),
      }),
    )
  return (
    <>
      <p class="lead">{words.lead}</p>
      <div class="print-body">
        <ToolForm onSubmit={work} busy={busy} failure={failure}>
          <ResinChoice resin={resin} />
          <div class="fields">
            <NumberField
              label={words.layer}
              value={wall.layerMm}
              onChange={(layerMm) => setWall({ ...wall, layerMm })}
              min={0.005}
              max={0.5}
              required
            />
            <NumberField
              label={words.angle}
              hint={words.angleHint}
              value={wall.angle}
              onChange={(angle) => setWall({ ...wall, angle })}
              min={0}
              max={90}
              required
            />
            <NumberField
              label={words.pixel}
              hint={words.pixelHint}
              value={wall.pixel}
              onChange={(pixel) => setWall({ ...wall, pixel })}
              min={1}
              max={200}
            />
          </div>
          <Choice legend={words.scale} names={words.scales} chosen={scale} choose={setScale} />
          <Choice legend={words.coat} names={words.coats} chosen={after} choose={setAfter} />
          <div class="fields">
            {after === 'coat' && (
              <SheetField
                fields={fields}
                name="coatIndex"
                label={words.coatIndex}
                hint={words.coatIndexHint}
                min={1.2}
                max={2}
                required
              />
            )}
            <SheetField fields={fields} name="index" label={words.index} hint={words.indexHint} min={1.2} max={2} />
            <SheetField fields={fields} name="accepted" label={words.accepted} min={0.1} max={90} required />
            <SheetField
              fields={fields}
              name="ratio"
              label={words.ratio}
              hint={words.ratioHint}
              min={1.1}
              max={4}
              required
            />
          </div>
        </ToolForm>
        <div class="stack">
          {reply && <Answer reply={reply} />}
          <Cautions cautions={cautionsOf(steps, 'smooth', ...(after === 'coat' ? (['coat'] as const) : []))} />
        </div>
      </div>
    </>
  )
}

function Answer({ reply }: { reply: SmoothReply }) {
  const { step, layersPerMm, steps, stopAfter, gain, warnings } = reply
  const range = ([low, high]: readonly [number, number], times = 1) =>
    finishTexts.range(formatShort(low * times, 2), formatShort(high * times, 2), '')
  const coated = steps.some(({ coatedHaze }) => coatedHaze)
  const { coated: coatedHead, ...head } = words.head
  const stop = stopAfter === undefined ? undefined : steps[stopAfter]
  return (
    <ToolResult title={words.result} of={steps}>
      <p>{words.steps(formatShort(step.heightUm), step.from, formatShort(layersPerMm, 2))}</p>
      <p class="next-list">{stop ? words.stop(stop.name, coated) : words.polish}</p>
      <ValueTable label={words.result} head={[...Object.values(head), ...(coated ? [coatedHead] : [])]}>
        <tbody>
          {steps.map(({ name, grainUm, stockUm, marksUm, bareHaze, coatedHaze }) => (
            <tr key={name}>
              <th scope="row">
                {name} <span class="hint">{grainUm}</span>
              </th>
              <td>{range(stockUm)}</td>
              <td>{range(marksUm)}</td>
              <td>{range(bareHaze, 100)}</td>
              {coatedHaze && <td>{range(coatedHaze, 100)}</td>}
            </tr>
          ))}
        </tbody>
      </ValueTable>
      {gain && (
        <FactList
          facts={[
            [words.gainHaze, words.gainFromTo(range(gain.haze.bare, 100), range(gain.haze.coated, 100))],
            [
              words.gain,
              words.gainFromTo(
                formatShort(100 * gain.transmittance.bare, 3),
                formatShort(100 * gain.transmittance.coated, 3),
              ),
            ],
            [words.fill, words.fillValue(formatShort(steps.at(-1)!.marksUm[1], 2))],
          ]}
        />
      )}
      <p>{words.wet}</p>
      <ToRoute step="smooth" notes={[words.note(steps.map(({ name }) => name).join(', ')), words.wetNote]} />
      <AssumedList assumed={reply.assumed} />
      {warnings.length > 0 && (
        <div class="note">
          <RefusalList refusals={warnings} />
        </div>
      )}
    </ToolResult>
  )
}
