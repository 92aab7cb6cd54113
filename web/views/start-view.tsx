import { useCallback } from 'preact/hooks'
import { formatExposure, formatRange, formatTime } from '../format.js'
import { LadderIcon } from '../icons.js'
import { LadderRow } from '../ladders/ladder-row.js'
import { getNow } from '../records-client.js'
import { helpAddress, ladderAddress, laddersAddress, printAddress, readingAddress, recordsAddress } from '../route.js'
import { lifeTexts } from '../texts/life.js'
import { processTexts } from '../texts/process.js'
import { useLoaded } from '../use-loaded.js'
import { FailureNote } from './failure-note.js'
import { History } from './history.js'
import { PhotoPicker } from './photo-picker.js'

const words = lifeTexts.start

/** The first page: one big action, what is under way, what was found last. */
export function StartView() {
  const { reply, failure, reload } = useLoaded(useCallback(getNow, []), words.failed)
  const empty = reply && reply.openLadders === 0 && reply.settings.length === 0
  return (
    <div class="start">
      <div class="start-main">
        <h1>{words.title}</h1>
        <section class="act" aria-labelledby="act">
          <div>
            <h2 id="act">{words.photographTitle}</h2>
            <p>{words.photographText}</p>
          </div>
          <PhotoPicker />
        </section>
        <div class="buttons">
          <a class="button" href={printAddress()}>
            <LadderIcon />
            {words.newLadder}
          </a>
          <a class="aside" href={helpAddress()}>
            {words.howTo}
          </a>
        </div>
        {failure && (
          <>
            <FailureNote failure={failure} />
            <button type="button" onClick={reload}>
              {words.again}
            </button>
          </>
        )}
        {empty && (
          <section class="panel quiet" aria-labelledby="first">
            <h2 id="first">{words.firstTitle}</h2>
            <p>{words.firstText}</p>
            {reply.demo && (
              <a class="button" href={readingAddress(reply.demo.readingId)}>
                {words.demo}
              </a>
            )}
          </section>
        )}
      </div>
      <div class="stack">
        {reply && reply.remeasure.length > 0 && (
          <section class="history" aria-labelledby="again">
            <h2 id="again">{processTexts.ageing.again}</h2>
            <ul class="entries">
              {reply.remeasure.map(({ ladderId, bottle, dueOn, afterDays }) => (
                <li key={ladderId}>
                  <a class="entry" href={ladderAddress(ladderId)}>
                    <span class="entry-name">
                      {lifeTexts.ladders.ladder(ladderId)}
                      {bottle && <span class="entry-of"> · {bottle}</span>}
                    </span>
                    <span class="entry-next">
                      <span class="step-name">{processTexts.ageing.due(afterDays)}</span>
                    </span>
                    <span class="entry-time">{processTexts.ageing.since(dueOn)}</span>
                  </a>
                </li>
              ))}
            </ul>
          </section>
        )}
        {reply && reply.ladders.length > 0 && (
          <section class="history" aria-labelledby="open">
            <h2 id="open">{words.openTitle}</h2>
            <ul class="entries">
              {reply.ladders.map((ladder) => (
                <li key={ladder.design.ladderId}>
                  <LadderRow ladder={ladder} />
                </li>
              ))}
            </ul>
            {reply.openLadders > reply.ladders.length && (
              <a class="aside" href={laddersAddress}>
                {words.all(reply.openLadders)}
              </a>
            )}
          </section>
        )}
        {reply && reply.settings.length > 0 && (
          <section class="history" aria-labelledby="settings">
            <h2 id="settings">{words.settingsTitle}</h2>
            <ul class="entries">
              {reply.settings.map(({ recordId, createdAt, content }) => (
                <li key={recordId}>
                  <a
                    class="entry"
                    href={content.ladderId ? ladderAddress(content.ladderId) : recordsAddress('setting')}
                  >
                    <span class="entry-name">
                      {content.ladderId
                        ? lifeTexts.ladders.ladder(content.ladderId)
                        : lifeTexts.records.origins[content.origin]}
                    </span>
                    <span class="entry-answer">{formatExposure(content.exposureS)} s</span>
                    <span class="entry-time">
                      {content.intervalS && `95 % ${formatRange(content.intervalS)} s · `}
                      {formatTime(createdAt)}
                      {content.simulated && <span class="badge">{lifeTexts.ladders.simulated}</span>}
                    </span>
                  </a>
                </li>
              ))}
            </ul>
            <a class="aside" href={recordsAddress('setting')}>
              {words.allSettings}
            </a>
          </section>
        )}
        <History />
      </div>
    </div>
  )
}
