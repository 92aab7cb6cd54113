import { useCallback } from 'preact/hooks'
import { formatExposure } from '../format.js'
import '../style/hand-on.css'
import { handOnTexts } from '../texts/hand-on.js'
import { useLoaded } from '../use-loaded.js'
import { Disclosure } from '../views/disclosure.js'
import { FailureNote } from '../views/failure-note.js'
import { AdaptPanel } from './adapt-panel.js'
import { BesidePanel } from './beside-panel.js'
import { SheetForm } from './sheet-form.js'
import { SheetPanel } from './sheet-panel.js'
import { getSetting, sheetsOf } from './sheets-client.js'

const words = handOnTexts

/** One setting: its sheets, and what else can be done with it. */
export function HandOnView({ settingId }: { settingId: string }) {
  const ask = useCallback(() => getSetting(settingId), [settingId])
  const { reply: setting, failure } = useLoaded(ask, words.failed)
  const askSheets = useCallback(() => sheetsOf(settingId), [settingId])
  const { reply: made, failure: sheetsFailure, reload } = useLoaded(askSheets, words.failed)
  const failed = failure ?? sheetsFailure
  if (failed) return <FailureNote failure={failed} />
  if (!setting || !made) return <p aria-busy="true" />
  const { content } = setting
  return (
    <div class="print">
      <h1>{words.title(formatExposure(content.exposureS))}</h1>
      <SheetForm settingId={settingId} onMade={reload} />
      <section aria-labelledby="sheets">
        <h2 id="sheets">{words.sheets.title}</h2>
        {made.sheets.length === 0 && <p class="hint">{words.sheets.none}</p>}
        {made.sheets.map((entry) => (
          <SheetPanel key={entry.sheetId} entry={entry} />
        ))}
      </section>
      <Disclosure title={words.adapt.title}>
        <AdaptPanel settingId={settingId} layerHeightUm={content.layerHeightUm} />
      </Disclosure>
      <Disclosure title={words.beside.title}>
        <BesidePanel settingId={settingId} />
      </Disclosure>
    </div>
  )
}
