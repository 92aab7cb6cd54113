import { useId } from 'preact/hooks'
import type { LadderDesign } from '../../server/api/ladders.js'
import { planLevels } from '../api-client.js'
import { listOfNumbers } from '../format.js'
import { processTexts as words } from '../texts/process.js'
import { NumberField } from '../views/number-field.js'

export type Factor = NonNullable<LadderDesign['factor']>
type Choice = keyof typeof words.factors

export const NO_LEVELS = { exposureS: '', by: 'range' as 'range' | 'list', low: '0', high: '', rungs: '6', list: '' }
type Values = typeof NO_LEVELS

const hasUnit = (factor: Factor) => words.units[factor] !== ''

/** Levels as typed, or as the service spreads them between two ends; nothing if they are not two to eight. */
export async function levelsOf(factor: Factor, { by, low, high, rungs, list }: Values): Promise<string[] | undefined> {
  if (by === 'range' && hasUnit(factor)) {
    return (await planLevels({ factor, from: Number(low), to: Number(high), rungs: Number(rungs) })).levels
  }
  const levels = hasUnit(factor)
    ? listOfNumbers(list).map(String)
    : list
        .split(/[\s;,/]+/)
        .filter(Boolean)
        .map((level) => level.toUpperCase())
  return levels.length >= 2 && levels.length <= 8 && new Set(levels).size >= 2 ? levels : undefined
}

/** What the rungs shall differ in. */
export function FactorChoice({ factor, choose }: { factor: Choice; choose: (factor: Choice) => void }) {
  const id = useId()
  return (
    <div class="field">
      <label for={id}>{words.what}</label>
      <select id={id} value={factor} onChange={(event) => choose(event.currentTarget.value as Choice)}>
        {Object.entries(words.factors).map(([name, title]) => (
          <option key={name} value={name}>
            {title}
          </option>
        ))}
      </select>
      {factor !== 'exposure' && <p class="hint">{words.lead}</p>}
    </div>
  )
}

/** The one exposure of all coupons, and the level of each. */
export function LevelFields(props: { factor: Factor; values: Values; change: (values: Values) => void }) {
  const { factor, values, change } = props
  const id = useId()
  const unit = words.units[factor]
  const byList = values.by === 'list' || !hasUnit(factor)
  const set = (part: Partial<Values>) => change({ ...values, ...part })
  return (
    <fieldset>
      <legend>{words.factors[factor]}</legend>
      <div class="fields">
        <NumberField
          label={words.exposure}
          value={values.exposureS}
          onChange={(exposureS) => set({ exposureS })}
          min={0.01}
          max={999}
          required
        />
      </div>
      {hasUnit(factor) && (
        <div class="choices">
          {(['range', 'list'] as const).map((by) => (
            <label key={by} class="choice">
              <input type="radio" name="levels-by" checked={values.by === by} onChange={() => set({ by })} />
              {by === 'range' ? words.byRange : words.list(unit)}
            </label>
          ))}
        </div>
      )}
      {byList ? (
        <div class="field">
          <label for={id}>{words.list(unit)}</label>
          <input
            id={id}
            type="text"
            required
            value={values.list}
            aria-describedby={`${id}-hint`}
            onInput={(event) => set({ list: event.currentTarget.value })}
          />
          <p class="hint" id={`${id}-hint`}>
            {words.listHint}
            {(factor === 'grit' || factor === 'coat') && `; ${words.names[factor]}`}
          </p>
        </div>
      ) : (
        <div class="fields">
          <NumberField
            label={words.lowest(unit)}
            value={values.low}
            onChange={(low) => set({ low })}
            min={0}
            required
          />
          <NumberField label={words.highest(unit)} value={values.high} onChange={(high) => set({ high })} required />
          <NumberField
            label={words.rungs}
            value={values.rungs}
            onChange={(rungs) => set({ rungs })}
            min={2}
            max={8}
            required
            whole
          />
        </div>
      )}
    </fieldset>
  )
}
