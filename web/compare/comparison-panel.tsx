import { useCallback } from 'preact/hooks'
import type { Comparison } from '../../server/api/compare.js'
import { Chart } from '../charts/chart.js'
import { toWidthOf } from '../format.js'
import { differenceOf, methodOf, overTimeOf } from '../texts/answers.js'
import { compareTexts as words } from '../texts/compare.js'
import { adviceOf } from '../texts/reasons.js'
import { ValueTable } from '../views/value-table.js'

/** `0.17 (0.07 … 0.27)` */
function withInterval({ value, interval }: { value: number; interval: readonly [number, number] }, mark = ''): string {
  const show = toWidthOf(interval)
  return `${show(value)}${mark} (${interval.map(show).join(' … ')})`
}

/** Differences of every two groups. */
function Matrix({ groups, differences }: Comparison) {
  const cell = (row: string, column: string) => {
    const found = differences.find(({ first, second }) => first === row && second === column)
    if (!found) return ''
    return withInterval(found.difference, found.differs ? '*' : '')
  }
  return (
    <>
      <h3 id="matrix">{words.matrix}</h3>
      <p class="hint">{words.matrixHint}</p>
      <ValueTable labelledBy="matrix" head={[words.group, ...groups.slice(1).map(({ group }) => group)]}>
        <tbody>
          {groups.slice(0, -1).map(({ group: row }) => (
            <tr key={row}>
              <th scope="row">{row}</th>
              {groups.slice(1).map(({ group }) => (
                <td key={group}>{cell(row, group)}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </ValueTable>
    </>
  )
}

/** One group over time; nothing while it has too few points for limits. */
function OverTime({ series, label, said }: { series: Comparison['overTime'][number]; label: string; said: string }) {
  const load = useCallback(async () => {
    const { overTimeChart } = await import('./over-time-chart.js')
    return (widthPx: number) => overTimeChart(series, label, widthPx)
  }, [series, label])
  return (
    <>
      <h3>{words.overTime(series.group)}</h3>
      <Chart
        load={load}
        label={words.overTimeChart(label, said)}
        table={{
          name: `over-time-${series.group}`,
          columns: ['date', 'photo', 'value', 'ewma', 'ewma_low', 'ewma_high'],
          rows: series.points.map(({ date, photo, value }, i) => [
            date,
            photo,
            value,
            series.ewma.values[i],
            series.ewma.limits[i]?.[0],
            series.ewma.limits[i]?.[1],
          ]),
        }}
      />
      <p class="hint">{words.overTimeKey}</p>
    </>
  )
}

/** A comparison as sentences, picture, table and matrix. */
export function ComparisonPanel({ comparison }: { comparison: Comparison }) {
  const { groups, differences, of, notes, overTime } = comparison
  const load = useCallback(async () => {
    const { comparisonChart } = await import('./comparison-chart.js')
    return (widthPx: number) => comparisonChart(comparison, widthPx)
  }, [comparison])
  return (
    <section class="panel" aria-labelledby="compared">
      <h2 id="compared">{words.result}</h2>
      {[
        ...differences.map((difference) => differenceOf(difference, comparison)),
        ...overTime.map((series) => overTimeOf(series, of)),
      ].map((said) => (
        <p key={said}>{said}</p>
      ))}
      <Chart
        load={load}
        label={words.chart(words.ofs[of], groups.map(({ group }) => group).join(', '))}
        table={{
          name: `compare-${of}`,
          columns: ['group', 'photo', 'ladder', 'slot', 'exposure_s', 'value', 'u'],
          rows: groups.flatMap(({ group, values }) =>
            values.map(({ photo, ladderId, slot, exposureS, value, standardUncertainty }) => [
              group,
              photo,
              ladderId,
              slot,
              exposureS,
              value,
              standardUncertainty,
            ]),
          ),
        }}
      />
      {overTime.map((series) => (
        <OverTime key={series.group} series={series} label={words.ofs[of]} said={overTimeOf(series, of)} />
      ))}
      <ValueTable labelledBy="compared" head={[words.group, words.mean, words.coupons, words.photos]}>
        <tbody>
          {groups.map(({ group, mean, coupons, photos }) => (
            <tr key={group}>
              <th scope="row">{group}</th>
              <td>{withInterval(mean)}</td>
              <td>{coupons}</td>
              <td>{photos}</td>
            </tr>
          ))}
        </tbody>
      </ValueTable>
      {groups.length > 1 && <Matrix {...comparison} />}
      <p class="hint">{methodOf(comparison)}</p>
      {notes.length > 0 && (
        <>
          <h3>{words.notes}</h3>
          <ul>
            {notes.map((note) => (
              <li key={note.code}>{adviceOf(note)}</li>
            ))}
          </ul>
        </>
      )}
    </section>
  )
}
