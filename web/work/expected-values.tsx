import type { ReadLadder } from '../../server/api/readings.js'
import { formatExposure, formatNumber, formatRange, formatShort } from '../format.js'
import { FactList, type Fact } from '../views/fact-list.js'
import { workTexts } from '../texts/work.js'
import type { Expected } from './use-expected.js'
import { ValueTable } from '../views/value-table.js'

const words = workTexts.whatIf

/** Where the asked exposure lies against the ladder, and what that makes of the answer. */
export function ExpectedPlace({ expected, ladder }: { expected: Expected; ladder: ReadLadder }) {
  const { exposureS, layerUm, reply } = expected
  const { place, equivalentS } = reply
  const { design, rungs, penetrationDepthUm } = ladder
  const exposures = rungs.flatMap((rung) => ('growthUm' in rung ? [rung.exposureS] : []))
  const otherLayer = layerUm !== design.layerHeightUm
  return (
    <div class="place" role="status">
      {place === 'within' && !otherLayer && <p>{words.within(formatExposure(exposureS))}</p>}
      {otherLayer && (
        <p>
          {words.equivalent(
            formatShort(equivalentS.value),
            formatRange([equivalentS.low, equivalentS.high]),
            formatShort(design.layerHeightUm / 1000),
          )}{' '}
          {words.otherLayer} {!penetrationDepthUm && words.unknownDepth}
        </p>
      )}
      {place !== 'within' && (
        <div class="note warning">
          <p>
            <strong>{words.outsideTitle}.</strong>{' '}
            {place === 'below'
              ? words.below(formatExposure(Math.min(...exposures)))
              : words.above(formatExposure(Math.max(...exposures)))}
          </p>
        </div>
      )}
    </div>
  )
}

/** Growth, print-through, haze and what survives, each with its band. */
export function ExpectedValues({ expected: { reply } }: { expected: Expected }) {
  const { growthUm, printThroughUm, haze, safeLineUm, safeSpaceUm, place } = reply
  if (place !== 'within') return null
  const banded = (name: string, band: typeof haze, decimals: number): Fact => [
    name,
    band ? (
      <>
        {formatNumber(band.value, decimals)}{' '}
        <span class="band">{words.band(formatNumber(band.low, decimals), formatNumber(band.high, decimals))}</span>
      </>
    ) : (
      <span class="band">{words.notKnown}</span>
    ),
  ]
  const size = (name: string, um: number | undefined): Fact => [
    name,
    um === undefined ? <span class="band">{words.notKnown}</span> : formatNumber(um, 0),
  ]
  return (
    <div class="expected">
      <FactList
        compact
        facts={[
          banded(words.growth, growthUm, 1),
          banded(words.printThrough, printThroughUm, 0),
          banded(words.haze, haze, 3),
          size(words.safeLine, safeLineUm),
          size(words.safeSpace, safeSpaceUm),
        ]}
      />
    </div>
  )
}

/** Chance that walls stand and gaps stay open, by width. */
export function SurvivalTable({ expected: { reply } }: { expected: Expected }) {
  const { survival, place } = reply
  if (place !== 'within') return null
  if (survival.length === 0) return <p class="hint">{words.allSurvived}</p>
  const widths = [...new Set(survival.map(({ nominalUm }) => nominalUm))].sort((a, b) => a - b)
  const chance = (kind: 'line' | 'space', nominalUm: number) => {
    const found = survival.find((one) => one.kind === kind && one.nominalUm === nominalUm)
    return found ? words.percent(formatNumber(100 * found.chance, 0)) : '–'
  }
  return (
    <ValueTable caption={words.survival} head={[words.width, words.stands, words.opens]}>
      <tbody>
        {widths.map((nominalUm) => (
          <tr key={nominalUm}>
            <th scope="row">{formatShort(nominalUm / 1000)}</th>
            <td>{chance('line', nominalUm)}</td>
            <td>{chance('space', nominalUm)}</td>
          </tr>
        ))}
      </tbody>
    </ValueTable>
  )
}
