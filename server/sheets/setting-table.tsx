import Papa from 'papaparse'
import { render } from 'preact-render-to-string'
import type { SettingSheet, SettingTable } from '../api/sheets.js'
import { RESIN_CAUTIONS } from '../printables/cautions.js'

type Row = SettingTable['settings'][number]

/** Column heads; the name of a field stands in CSV and JSON. */
const COLUMNS: readonly (readonly [keyof Row, string])[] = [
  ['printer', 'printer'],
  ['layerHeightUm', 'layer height, µm'],
  ['resin', 'resin'],
  ['bottle', 'bottle'],
  ['batch', 'batch'],
  ['exposureS', 'layer exposure, s'],
  ['lowS', 'from, s'],
  ['highS', 'to, s'],
  ['temperatureC', 'resin at, °C'],
]

/** Many settings as one table, by printer and then by layer height. */
export function settingTable(sheets: readonly SettingSheet[], madeOn: string, title?: string): SettingTable {
  const settings = sheets.map(
    ({ resin, bottle, printer, layerHeightUm, exposureS, intervalS, temperatureC, simulated }): Row => ({
      ...(resin && { resin: resin.name }),
      ...(bottle && { bottle: bottle.name, ...(bottle.batch && { batch: bottle.batch }) }),
      ...(printer !== undefined && { printer }),
      layerHeightUm,
      exposureS,
      ...(intervalS && { lowS: intervalS[0], highS: intervalS[1] }),
      ...(temperatureC !== undefined && { temperatureC }),
      ...(simulated && { simulated }),
    }),
  )
  settings.sort((a, b) => (a.printer ?? '').localeCompare(b.printer ?? '') || a.layerHeightUm - b.layerHeightUm)
  return { schema: 'stepglass-settings-1', ...(title && { title }), madeOn, settings }
}

/** For a spreadsheet. What might be taken for a formula is text there. */
export const tableCsv = ({ settings }: SettingTable): string =>
  Papa.unparse(settings, { columns: [...COLUMNS.map(([field]) => field), 'simulated'], escapeFormulae: true })

const STYLE = `
:root { color-scheme: light dark; font: 16px/1.4 system-ui, sans-serif }
body { max-width: 60rem; margin: 0 auto; padding: 1.5rem }
div { overflow-x: auto } table { border-collapse: collapse; width: 100% }
th, td { text-align: left; padding: .35rem .6rem; border-bottom: 1px solid color-mix(in srgb, currentColor 25%, transparent); font-variant-numeric: tabular-nums }
@media print { body { padding: 0; max-width: none; font-size: 11px } }
`

/** As one page that needs no network. */
export function tableHtml({ title = 'Settings', madeOn, settings }: SettingTable): string {
  const page = (
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'" />
        <title>{title}</title>
        <style dangerouslySetInnerHTML={{ __html: STYLE }} />
      </head>
      <body>
        <h1>{title}</h1>
        <p>
          As of {madeOn}. Each exposure with its 95 % interval where one was measured; print three rungs about it on
          your own printer first.
        </p>
        <div>
          <table>
            <thead>
              <tr>
                {COLUMNS.map(([, head]) => (
                  <th scope="col">{head}</th>
                ))}
              </tr>
            </thead>
            <tbody>
              {settings.map((row) => (
                <tr>
                  {COLUMNS.map(([field], i) => (
                    <td>
                      {row[field]}
                      {i === 0 && row.simulated ? ' (simulated, an example)' : ''}
                    </td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </div>
        <p>
          <small>{RESIN_CAUTIONS}</small>
        </p>
      </body>
    </html>
  )
  return `<!doctype html>\n${render(page)}\n`
}
