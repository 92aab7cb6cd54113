import { useCallback, useState } from 'preact/hooks'
import type { Bottle, Printer, Report, Resin, Setting } from '../../server/api/records.js'
import { formatExposure, formatRange, formatShort, formatTime } from '../format.js'
import {
  changeRecord,
  findRecords,
  undoRecord,
  type Contents,
  type RecordKind,
  type StoredRecord,
} from '../records-client.js'
import { TableLinks } from '../hand-on/table-links.js'
import { ladderAddress, recordKinds, recordsAddress, settingAddress, takeInAddress } from '../route.js'
import { handOnTexts } from '../texts/hand-on.js'
import { lifeTexts } from '../texts/life.js'
import { useChange, useLoaded } from '../use-loaded.js'
import { FailureNote } from '../views/failure-note.js'
import { ListSearch } from '../views/list-search.js'
import { micrometres } from '../units.js'
import { RecordForm } from './record-form.js'

const words = lifeTexts.records
const PAGE = 25

/** Headline and facts of a record in its list. */
function inShort(kind: RecordKind, content: Contents[RecordKind]): [string, string[]] {
  const { fields } = words
  if (kind === 'setting') {
    const { exposureS, intervalS, layerHeightUm, origin, simulated } = content as Setting
    return [
      words.exposure(formatExposure(exposureS)),
      [
        ...(intervalS ? [`95 % ${formatRange(intervalS)} s`] : []),
        micrometres(layerHeightUm),
        words.origins[origin],
        ...(simulated ? [lifeTexts.ladders.simulated] : []),
      ],
    ]
  }
  if (kind === 'report') {
    const { part, finding, date } = content as Report
    return [`${part}: ${words.findings[finding]}`, [date]]
  }
  const { name } = content as Resin
  if (kind === 'printer') {
    const { pixelPitchUm, timeStepS, irradiance = [] } = content as Printer
    const last = irradiance.at(-1)
    return [
      name,
      [
        `${formatShort(pixelPitchUm)} µm`,
        `${formatShort(timeStepS)} s`,
        ...(last ? [`${formatShort(last.mwPerCm2)} ${words.irradianceValue}, ${last.date}`] : []),
      ],
    ]
  }
  if (kind === 'bottle') {
    const { batch, openedOn, storedAt, remainingMl } = content as Bottle
    return [
      name,
      [
        ...(batch ? [`${fields.batch} ${batch}`] : []),
        ...(openedOn ? [`${fields.openedOn} ${openedOn}`] : []),
        ...(remainingMl === undefined ? [] : [`${formatShort(remainingMl)} ml`]),
        ...(storedAt ? [storedAt] : []),
      ],
    ]
  }
  const { maker, colour } = content as Resin
  return [name, [maker, colour].filter((each) => each !== undefined)]
}

/** What may be behind a finding, each with where that comes from. */
function WhatToCheck({ finding }: Pick<Report, 'finding'>) {
  return (
    <details>
      <summary>{words.toCheck}</summary>
      <ul>
        {words.checks[finding].map(([check, source]) => (
          <li key={check}>
            {check} <span class="hint">({source})</span>
          </li>
        ))}
      </ul>
    </details>
  )
}

/** Resins, bottles, printers, settings or reports: found, added, changed, put away, and each change taken back. */
export function RecordsView({ kind }: { kind: RecordKind }) {
  const [search, setSearch] = useState('')
  const [archived, setArchived] = useState(false)
  const [limit, setLimit] = useState(PAGE)
  const [editing, setEditing] = useState<StoredRecord<Contents[RecordKind]> | 'new'>()
  const [last, setLast] = useState<{ recordId: string; said: string }>()
  const ask = useCallback(() => findRecords(kind, { search, archived, limit }), [kind, search, archived, limit])
  const { reply, failure, reload } = useLoaded(ask, words.failed)
  const { busy, failure: changeFailure, run } = useChange(words.saveFailed)
  const change = (recordId: string, said: string, act: () => Promise<unknown>) =>
    run(async () => {
      await act()
      setLast({ recordId, said })
      reload()
    })
  return (
    <div class="print">
      <div class="head-row">
        <h1>{words.kinds[kind]}</h1>
        <button type="button" class="main" onClick={() => setEditing('new')}>
          {words.add(words.one[kind])}
        </button>
      </div>
      <div class="tabs" role="group" aria-label={words.title}>
        {recordKinds.map((name) => (
          <a key={name} href={recordsAddress(name)} {...(name === kind ? { 'aria-current': 'page' as const } : {})}>
            {words.kinds[name]}
          </a>
        ))}
      </div>
      {kind === 'setting' && (
        <a class="aside" href={takeInAddress}>
          {handOnTexts.takeInLink}
        </a>
      )}
      {editing && (
        <RecordForm
          key={editing === 'new' ? 'new' : editing.recordId}
          kind={kind}
          {...(editing === 'new' ? {} : { record: editing })}
          onCancel={() => setEditing(undefined)}
          onDone={() => {
            setEditing(undefined)
            setLast(editing === 'new' ? undefined : { recordId: editing.recordId, said: words.saved })
            reload()
          }}
        />
      )}
      <div role="status" class="said">
        {last && (
          <>
            <span>{last.said}</span>
            <button
              type="button"
              disabled={busy}
              onClick={() => change(last.recordId, words.undone, () => undoRecord(kind, last.recordId))}
            >
              {words.undo}
            </button>
          </>
        )}
      </div>
      <ListSearch label={words.search} search={setSearch} archived={archived} setArchived={setArchived} />
      {(failure ?? changeFailure) && <FailureNote failure={(failure ?? changeFailure)!} />}
      {reply?.total === 0 && <p class="hint">{search ? words.noneFound : words.none}</p>}
      <ul class="entries">
        {reply?.records.map((record) => {
          const { recordId, content, createdAt, changes } = record
          const [title, facts] = inShort(kind, content)
          const { note } = content
          const ladderId = kind === 'setting' ? (content as Setting).ladderId : undefined
          return (
            <li key={recordId} class="record">
              <div>
                <h2 class="entry-name">{title}</h2>
                <p class="entry-time">
                  {[...facts, formatTime(createdAt), ...(changes > 0 ? [words.history(changes)] : [])].join(' · ')}
                </p>
                {note && <p class="hint">{note}</p>}
                {kind === 'report' && <WhatToCheck finding={(content as Report).finding} />}
                {ladderId && <a href={ladderAddress(ladderId)}>{lifeTexts.ladders.ladder(ladderId)}</a>}
              </div>
              <div class="buttons">
                {kind === 'setting' && (
                  <a class="button" href={settingAddress(recordId)} aria-label={`${handOnTexts.link}: ${title}`}>
                    {handOnTexts.link}
                  </a>
                )}
                <button type="button" aria-label={`${words.edit}: ${title}`} onClick={() => setEditing(record)}>
                  {words.edit}
                </button>
                <button
                  type="button"
                  disabled={busy}
                  aria-label={`${archived ? words.bringBack : words.putAway}: ${title}`}
                  onClick={() =>
                    change(recordId, archived ? words.saved : words.awayNow, () =>
                      changeRecord(kind, recordId, { archived: !archived }),
                    )
                  }
                >
                  {archived ? words.bringBack : words.putAway}
                </button>
              </div>
            </li>
          )
        })}
      </ul>
      {kind === 'setting' && reply && reply.records.length > 0 && (
        <TableLinks ids={reply.records.map(({ recordId }) => recordId)} />
      )}
      {reply && reply.total > reply.records.length && (
        <button type="button" onClick={() => setLimit(limit + 2 * PAGE)}>
          {words.more}
        </button>
      )}
    </div>
  )
}
