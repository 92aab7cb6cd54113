import { useState } from 'preact/hooks'
import type { SheetEntry } from '../../server/api/sheets.js'
import { formatTime } from '../format.js'
import { handOnTexts } from '../texts/hand-on.js'
import { useChange } from '../use-loaded.js'
import { Disclosure } from '../views/disclosure.js'
import { FailureNote } from '../views/failure-note.js'
import { LinksPanel } from './links-panel.js'
import { labelUrl, sheetUrl } from './sheets-client.js'

const words = handOnTexts.sheets
const LABELS = ['50x25', '70x36', '100x50']

/** One sheet in all its forms, and the ways to send it. */
export function SheetPanel({ entry: { sheetId, createdAt } }: { entry: SheetEntry }) {
  const [said, setSaid] = useState('')
  const { busy, failure, run } = useChange(handOnTexts.saveFailed)
  const textOf = async () => (await fetch(sheetUrl(sheetId, 'txt'))).text()
  const share = async () => {
    const picture = await (await fetch(sheetUrl(sheetId, 'png'))).blob()
    const files = [new File([picture], `stepglass-setting-${sheetId}.png`, { type: 'image/png' })]
    const text = await textOf()
    // Whoever closes the list of programs without choosing one has changed their mind.
    await navigator.share(navigator.canShare({ files }) ? { text, files } : { text }).catch(() => undefined)
  }
  return (
    <article class="panel" aria-label={words.name(sheetId, formatTime(createdAt))}>
      <h3>{words.name(sheetId, formatTime(createdAt))}</h3>
      <div class="downloads">
        <a class="button" href={sheetUrl(sheetId, 'pdf')} download>
          {words.forms.pdf}
        </a>
        <a class="button" href={sheetUrl(sheetId, 'pdf', 'letter')} download>
          {words.forms.letter}
        </a>
        {(['html', 'png', 'json', 'txt'] as const).map((form) => (
          <a key={form} class="button" href={sheetUrl(sheetId, form)} download>
            {words.forms[form]}
          </a>
        ))}
      </div>
      <h4>{words.labels}</h4>
      <div class="downloads">
        {LABELS.map((size) => (
          <a key={size} class="button" href={labelUrl(sheetId, size)} download>
            {words.label(size)}
          </a>
        ))}
      </div>
      <div class="buttons">
        {'share' in navigator ? (
          <button type="button" disabled={busy} onClick={() => run(share)}>
            {words.share}
          </button>
        ) : (
          <button
            type="button"
            disabled={busy}
            onClick={() =>
              run(async () => {
                window.location.href = `mailto:?body=${encodeURIComponent(await textOf())}`
              })
            }
          >
            {words.mail}
          </button>
        )}
        <button
          type="button"
          disabled={busy}
          onClick={() =>
            run(async () => {
              await navigator.clipboard.writeText(await textOf())
              setSaid(words.copied)
            })
          }
        >
          {words.copyText}
        </button>
        <span role="status">{said}</span>
      </div>
      {failure && <FailureNote failure={failure} />}
      <Disclosure title={handOnTexts.links.title}>
        <LinksPanel sheetId={sheetId} />
      </Disclosure>
    </article>
  )
}
