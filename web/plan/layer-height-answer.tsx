import type { LayerHeightReply } from '../../server/api/planning.js'
import { formatExposures, formatNumber, formatRange, formatShort } from '../format.js'
import { LadderIcon } from '../icons.js'
import { layerHeightOf, noteOf, riskOf } from '../texts/answers.js'
import { planTexts } from '../texts/plan.js'
import { printAddress } from '../route.js'
import { FactList, type Fact } from '../views/fact-list.js'
import { RefusalList } from '../views/refusal-list.js'
import { inMil } from '../units.js'
import { ToolResult } from './tool-parts.js'

const words = planTexts.layerHeight

/** One rule's exposure with what it risks. */
function Rule({ answer, reply }: { answer: LayerHeightReply['bond']; reply: LayerHeightReply }) {
  const { rule, exposureS, intervalS, overcureUm, printThroughUm } = answer
  const um = (value: number) => `${words.um(formatNumber(value, 0))}${inMil(value)}`
  const facts: Fact[] = [
    ...(overcureUm === undefined ? [] : [[words.overcure, um(overcureUm)] as const]),
    ...(printThroughUm === undefined ? [] : [[words.printThrough, um(printThroughUm)] as const]),
  ]
  return (
    <div class="rule">
      <h3>{words.rules[rule]}</h3>
      <p>{words.rule(formatShort(exposureS), formatRange(intervalS))}</p>
      <p class="hint">{riskOf(answer, reply)}</p>
      {facts.length > 0 && <FactList facts={facts} compact />}
    </div>
  )
}

/** The bracket, both rules with their risks, and the ladder that confirms it. */
export function LayerHeightAnswer({ reply }: { reply: LayerHeightReply }) {
  const { toUm, depth, depthIs, bond, accumulated, bracketS, confirmingLadderS, ladders, warnings } = reply
  const note = noteOf(reply)
  const depthRange = formatRange(depth.intervalUm)
  const facts: Fact[] = [
    [
      words.depthUsed,
      depthIs === 'known'
        ? `${words.depthKnown(formatShort(depth.valueUm), depthRange)}${inMil(depth.valueUm)}`
        : words.depthUnknown(depthRange),
    ],
    ...(ladders
      ? [[words.ladders, words.rule(formatShort(ladders.exposureS), formatRange(ladders.intervalS))] as const]
      : []),
  ]
  return (
    <ToolResult title={words.result(formatShort(toUm / 1000))} of={reply}>
      <p class="next-list">{words.bracket(formatRange(bracketS))}</p>
      <p>{layerHeightOf(reply)}</p>
      {note && <p class="hint">{note}</p>}
      {warnings.length > 0 && (
        <div class="note warning">
          <RefusalList refusals={warnings} />
        </div>
      )}
      <Rule answer={bond} reply={reply} />
      <Rule answer={accumulated} reply={reply} />
      <FactList facts={facts} />
      <h3>{words.confirm}</h3>
      <p class="next-list">{planTexts.list(formatExposures(confirmingLadderS))}</p>
      <a class="button main" href={printAddress({ layerHeightUm: toUm, exposuresS: confirmingLadderS })}>
        <LadderIcon />
        {planTexts.printThis}
      </a>
    </ToolResult>
  )
}
