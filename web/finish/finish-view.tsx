import { finishAddress, finishTools, type FinishTool } from '../route.js'
import '../style/plan.css'
import './finish.css'
import { finishTexts } from '../texts/finish.js'
import { PartRoute } from './part-route.js'
import { PostCure } from './post-cure.js'
import { Prepare } from './prepare.js'
import { Smooth } from './smooth.js'
import { TimerBench } from './timer-bench.js'
import { useTimers } from './timer-store.js'

const views = { route: PartRoute, prepare: Prepare, 'post-cure': PostCure, smooth: Smooth } as const satisfies Record<
  FinishTool,
  unknown
>

/** The steps around printing, or one of them, with the timers. */
export function FinishView({ tool }: { tool: FinishTool | undefined }) {
  const View = tool && views[tool]
  const running = useTimers().timers.length > 0
  return (
    <div class="print">
      {running && <TimerBench />}
      {tool && View ? (
        <>
          <p>
            <a href={finishAddress()}>{finishTexts.back}</a>
          </p>
          <h1>{finishTexts.tools[tool].title}</h1>
          <View />
        </>
      ) : (
        <>
          <h1>{finishTexts.title}</h1>
          <p class="lead">{finishTexts.lead}</p>
          <ul class="entries tools">
            {finishTools.map((name) => (
              <li key={name}>
                <a class="entry wide" href={finishAddress(name)}>
                  <span class="tool-name">{finishTexts.tools[name].title}</span>
                  <span class="entry-time">{finishTexts.tools[name].text}</span>
                </a>
              </li>
            ))}
          </ul>
        </>
      )}
      {!running && <TimerBench />}
    </div>
  )
}
