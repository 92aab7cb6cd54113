import { useCallback } from 'preact/hooks'
import type { WorkingCurveReply } from '../../server/api/planning.js'
import { Chart } from '../charts/chart.js'
import { Key } from '../charts/key.js'
import { formatNumber, formatRange, formatShort, toDigits } from '../format.js'
import { adviceOn } from '../texts/answers.js'
import { planTexts } from '../texts/plan.js'
import { planAddress } from '../route.js'
import { FactList, type Fact } from '../views/fact-list.js'
import { ValueTable } from '../views/value-table.js'
import { inMil } from '../units.js'

const words = planTexts.curve

/** The fitted curve, its doubts, and the points to look at. */
export function CurveAnswer({ reply }: { reply: WorkingCurveReply }) {
  const {
    columnsHold,
    points,
    skipped,
    penetrationDepthUm,
    criticalDoseMjPerCm2,
    scatterUm,
    curvature,
    advice,
    forDepth,
  } = reply
  const load = useCallback(async () => {
    const { workingCurveChart } = await import('../charts/working-curve-chart.js')
    return (widthPx: number) => workingCurveChart(reply, widthPx)
  }, [reply])
  const carried = {
    depthUm: `${toDigits(penetrationDepthUm.value, 3)}`,
    critical: `${toDigits(criticalDoseMjPerCm2, 3)}`,
  }
  const [depth, critical] = [formatShort(penetrationDepthUm.value), formatShort(criticalDoseMjPerCm2)]
  const facts: Fact[] = [
    [
      words.depth,
      `${words.um(depth, formatRange(reply.penetrationDepthIntervalUm))}${inMil(penetrationDepthUm.value)}`,
    ],
    [words.critical, words.mj(critical, formatRange(reply.criticalDoseIntervalMjPerCm2))],
    ...(forDepth
      ? [
          [
            words.dose(formatShort(forDepth.depthUm)),
            `${words.mj(formatShort(forDepth.doseMjPerCm2), formatRange(forDepth.intervalMjPerCm2))}; ${words.oneLayer(formatRange(forDepth.oneLayerMjPerCm2))}`,
          ] as const,
        ]
      : []),
    [words.shape, words.shapes[curvature.verdict]],
    [words.scatter, `${words.scatterValue(formatShort(scatterUm, 2))}${inMil(scatterUm)}`],
  ]
  return (
    <>
      <FactList facts={facts} />
      <Chart load={load} label={words.chart(depth, critical)} />
      <Key
        entries={[
          ['light', words.key.point],
          ...(advice.length > 0 ? [['warned', words.key.warned] as const] : []),
          ['line', words.key.line],
        ]}
      />
      {advice.length > 0 && (
        <div class="note warning">
          <h3>{words.advice}</h3>
          <p>{words.adviceLead}</p>
          <ul>
            {advice.map(({ line, withoutIt, ...point }) => (
              <li key={`${line} ${point.why}`}>
                <strong>{words.line(line)}.</strong> {adviceOn(point)}{' '}
                {words.without(formatShort(withoutIt.penetrationDepthUm), formatShort(withoutIt.criticalDoseMjPerCm2))}
              </li>
            ))}
          </ul>
        </div>
      )}
      {skipped.length > 0 && (
        <div class="note warning">
          <h3>{words.skipped}</h3>
          <ul>
            {skipped.map(({ line, why }) => (
              <li key={line}>
                <strong>{words.line(line)}:</strong> {words.skippedWhy[why]}
              </li>
            ))}
          </ul>
        </div>
      )}
      <details>
        <summary>{words.points}</summary>
        <p class="hint">{words.columns(words.doses[columnsHold.doses], words.depths[columnsHold.depths])}</p>
        <ValueTable label={words.points} head={Object.values(words.head)}>
          <tbody>
            {points.map((point) => (
              <tr key={point.line}>
                <th scope="row">{point.line}</th>
                <td>{formatShort(point.doseMjPerCm2)}</td>
                <td>{formatShort(point.depthUm)}</td>
                <td>{formatNumber(point.residualUm, 1)}</td>
              </tr>
            ))}
          </tbody>
        </ValueTable>
      </details>
      <p>
        <a href={planAddress('first-ladder', carried)}>{words.firstLadder}</a>
      </p>
    </>
  )
}
