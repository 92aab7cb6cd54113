import { useState } from 'preact/hooks'
import type { LadderRecord } from '../../server/api/ladders.js'
import { WarningIcon } from '../icons.js'
import { texts } from '../texts.js'
import { EarlierLadders } from './earlier-ladders.js'
import { MadeLadder } from './made-ladder.js'
import { PlanForm } from './plan-form.js'

/** Plans a ladder and hands out what is to be printed for it. */
export function PrintView({ wish }: { wish: URLSearchParams }) {
  const words = texts.print
  const [made, setMade] = useState<LadderRecord>()
  return (
    <div class="print">
      <h1>{words.title}</h1>
      <p class="lead">{words.lead}</p>
      <div class="print-body">
        <div class="stack">
          <PlanForm wish={wish} onMade={setMade} />
          {made && <MadeLadder key={made.design.ladderId} design={made.design} />}
        </div>
        <div class="stack">
          <section class="note warning" aria-labelledby="caution">
            <h2 id="caution">
              <WarningIcon />
              {words.cautionTitle}
            </h2>
            <ul>
              {words.cautions.map((caution) => (
                <li key={caution}>{caution}</li>
              ))}
            </ul>
          </section>
          <EarlierLadders key={made?.design.ladderId} onChoose={setMade} />
        </div>
      </div>
    </div>
  )
}
