import { useState } from 'preact/hooks'
import type { ImportReply } from '../../server/api/archive.js'
import { archiveUrl, csvUrl, importArchive } from '../records-client.js'
import { lifeTexts } from '../texts/life.js'
import { useChange } from '../use-loaded.js'
import { FailureNote } from '../views/failure-note.js'

const words = lifeTexts.data

/** Everything out as an open file, and in again. */
export function DataView() {
  const [reply, setReply] = useState<ImportReply>()
  const { busy, failure, run } = useChange(words.failed)
  const bringIn = (file: File | undefined) => {
    if (!file) return
    setReply(undefined)
    run(async () => setReply(await importArchive(file)))
  }
  return (
    <div class="print">
      <h1>{words.title}</h1>
      <section class="panel" aria-labelledby="export">
        <h2 id="export">{words.exportTitle}</h2>
        <p>{words.exportText}</p>
        <div class="downloads">
          <a class="button main" href={archiveUrl} download>
            {words.exportAll}
          </a>
          <a class="button" href={csvUrl} download>
            {words.csv}
          </a>
        </div>
      </section>
      <section class="panel" aria-labelledby="import" aria-busy={busy}>
        <h2 id="import">{words.importTitle}</h2>
        <p>{words.importText}</p>
        <label class="button file-button">
          <input
            class="file"
            type="file"
            accept=".zip,application/zip"
            disabled={busy}
            onChange={(event) => {
              bringIn(event.currentTarget.files?.[0])
              event.currentTarget.value = ''
            }}
          />
          {busy ? words.working : words.choose}
        </label>
        {failure && <FailureNote failure={failure} />}
        <p role="status">
          {reply && words.done(reply.added.records, reply.added.ladders, reply.added.photos, reply.added.readings)}
        </p>
      </section>
    </div>
  )
}
