import { useEffect, useRef, useState } from 'preact/hooks'
import { lifeTexts } from '../texts/life.js'
import { texts } from '../texts/page.js'
import type { ChartFormat, ChartTable } from './save-chart.js'

const words = lifeTexts.charts

interface Props {
  /** Loads what is needed and gives the picture for a width in pixels; changes only with what it draws. */
  readonly load: () => Promise<(widthPx: number) => SVGSVGElement>
  /** All the picture says, in words. */
  readonly label: string
  /** True: it needs less height than others. Default: false. */
  readonly low?: boolean
  /** Its numbers; with them it can be saved as picture or table. Default: it cannot be saved. */
  readonly table?: ChartTable
}

/** Room for a chart. Its code is fetched only once it is on the page. */
export function Chart({ load, label, low = false, table }: Props) {
  const box = useRef<HTMLDivElement>(null)
  const [failed, setFailed] = useState(false)
  useEffect(() => {
    let gone = false
    let resize: ResizeObserver | undefined
    load().then(
      (picture) => {
        if (gone || !box.current) return
        const { current: place } = box
        let drawnPx = 0
        resize = new ResizeObserver(() => {
          const widthPx = Math.floor(place.clientWidth)
          if (widthPx === 0 || widthPx === drawnPx) return
          drawnPx = widthPx
          place.replaceChildren(picture(widthPx))
        })
        resize.observe(place)
      },
      () => !gone && setFailed(true),
    )
    return () => {
      gone = true
      resize?.disconnect()
    }
  }, [load])
  if (failed) return <p class="hint">{texts.chart.failed}</p>
  const save = async (format: ChartFormat) => {
    const chart = box.current?.querySelector('svg')
    if (chart && table) await (await import('./save-chart.js')).saveChart(chart, table, format)
  }
  return (
    <>
      <div class={low ? 'chart low' : 'chart'} role="img" aria-label={label} ref={box} />
      {table && (
        <div class="save-chart" role="group" aria-label={`${words.save}: ${table.name}`}>
          <span aria-hidden="true">{words.save}</span>
          {(Object.keys(words.formats) as ChartFormat[]).map((format) => (
            <button key={format} type="button" class="link" onClick={() => void save(format)}>
              {words.formats[format]}
            </button>
          ))}
        </div>
      )}
    </>
  )
}
