import { planTexts } from '../texts/plan.js'
import { planAddress, tools, type Tool } from '../route.js'
import '../style/plan.css'
import { FirstLadder } from './first-ladder.js'
import { Lamp } from './lamp.js'
import { LayerHeight } from './layer-height.js'
import { WorkingCurve } from './working-curve.js'

const views = {
  'first-ladder': FirstLadder,
  'layer-height': LayerHeight,
  'working-curve': WorkingCurve,
  lamp: Lamp,
} as const satisfies Record<Tool, unknown>

/** The tools that say what to print next, or one of them. */
export function PlanView({ tool, wish }: { tool: Tool | undefined; wish: URLSearchParams }) {
  if (tool) {
    const View = views[tool]
    return (
      <div class="print">
        <p>
          <a href={planAddress()}>{planTexts.back}</a>
        </p>
        <h1>{planTexts.tools[tool].title}</h1>
        <View wish={wish} />
      </div>
    )
  }
  return (
    <div class="print">
      <h1>{planTexts.title}</h1>
      <p class="lead">{planTexts.lead}</p>
      <ul class="entries tools">
        {tools.map((name) => (
          <li key={name}>
            <a class="entry wide" href={planAddress(name)}>
              <span class="tool-name">{planTexts.tools[name].title}</span>
              <span class="entry-time">{planTexts.tools[name].text}</span>
            </a>
          </li>
        ))}
      </ul>
    </div>
  )
}
