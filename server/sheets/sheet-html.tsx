import { render } from 'preact-render-to-string'
import type { SettingSheet } from '../api/sheets.js'
import { DATA_ID } from './carriers.js'
import { drawCode } from './code-drawing.js'
import { growthFigure } from './growth-figure.js'
import { labelPart, labelText } from './label-text.js'
import { sheetWords } from './sheet-words.js'

const STYLE = `
:root { color-scheme: light dark; font: 16px/1.45 system-ui, sans-serif }
body { max-width: 46rem; margin: 0 auto; padding: 1.5rem; }
h1 { font-size: 1.1rem; font-weight: 600; margin: 0 }
.exposure { font-size: 3.4rem; font-weight: 700; line-height: 1.1; margin: .3rem 0 0; font-variant-numeric: tabular-nums }
.warning { border: 2px solid; padding: .5rem .75rem; font-weight: 600 }
dl { display: grid; grid-template-columns: minmax(8rem, auto) 1fr; gap: .3rem 1rem; margin: 1.2rem 0 }
dt { opacity: .75 } dd { margin: 0; overflow-wrap: anywhere }
figure { margin: 1rem 0; background: #fff; color: #000; padding: .5rem; border-radius: 4px }
figure svg, figure img { display: block; width: 100%; height: auto }
.pictures { display: grid; gap: 1rem; grid-template-columns: repeat(auto-fit, minmax(16rem, 1fr)) }
.code svg { max-width: 11rem } small { opacity: .8 }
@media print { body { padding: 0; max-width: none; font-size: 10.5px } .exposure { font-size: 2.4rem } figure { break-inside: avoid } }
`

/** Text that ends no script element: JSON says the same with `<` written as its number. */
const asData = (value: unknown) => JSON.stringify(value).replaceAll('<', String.raw`\u003c`)

/** A sheet as one page that needs no network and runs no script; its data lie in it for the program that takes it in. */
export function sheetHtml(sheet: SettingSheet): string {
  const { title, exposure, range, warning, facts, invalidWhen, cautions } = sheetWords(sheet)
  const figure = growthFigure(sheet)
  const { modules, path } = drawCode(labelText(labelPart(sheet)))
  const page = (
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta
          http-equiv="Content-Security-Policy"
          content="default-src 'none'; style-src 'unsafe-inline'; img-src data:"
        />
        <title>{`${exposure}, ${title}`}</title>
        <style dangerouslySetInnerHTML={{ __html: STYLE }} />
      </head>
      <body>
        <main>
          {warning && <p class="warning">{warning}</p>}
          <h1>{title}</h1>
          <p class="exposure">{exposure}</p>
          <p>layer exposure, {range}</p>
          <dl>
            {facts.map(([what, value]) => (
              <>
                <dt>{what}</dt>
                <dd>{value}</dd>
              </>
            ))}
          </dl>
          <div class="pictures">
            {figure && <figure dangerouslySetInnerHTML={{ __html: figure }} />}
            {sheet.photoJpeg && (
              <figure>
                <img
                  src={`data:image/jpeg;base64,${sheet.photoJpeg}`}
                  alt="The coupons with outlines of what was read"
                />
              </figure>
            )}
            <figure class="code">
              <svg viewBox={`0 0 ${modules} ${modules}`} role="img" aria-label="Code that holds this setting">
                <path d={path} />
              </svg>
            </figure>
          </div>
          <h2>It no longer holds with</h2>
          <ul>
            {invalidWhen.map((line) => (
              <li>{line}</li>
            ))}
          </ul>
          <p>
            <small>{cautions}</small>
          </p>
        </main>
        <script type="application/json" id={DATA_ID} dangerouslySetInnerHTML={{ __html: asData(sheet) }} />
      </body>
    </html>
  )
  return `<!doctype html>\n${render(page)}\n`
}
