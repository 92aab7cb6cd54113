import type { RefusalReply } from '../../server/api/readings.js'
import { codeTitle } from '../format.js'
import { topicOf } from '../help/help-codes.js'
import { helpAddress } from '../route.js'
import { helpTexts } from '../texts/help.js'

/** The way to the picture that explains a reason. */
export function HelpLink({ code }: { code: string }) {
  const topic = topicOf(code)
  return topic ? (
    <a class="aside" href={helpAddress(topic)}>
      {helpTexts.seeHelp}
    </a>
  ) : null
}

/** A reason in a sentence: its headline, what to do, what was found. */
export const Refusal = ({ refusal: { code, advice, detail } }: { refusal: RefusalReply }) => (
  <>
    <strong>{codeTitle(code)}.</strong> {advice}
    {detail && <span class="hint"> ({detail})</span>} <HelpLink code={code} />
  </>
)

/** Reasons, one a line. */
export const RefusalList = ({ refusals }: { refusals: readonly RefusalReply[] }) => (
  <ul>
    {refusals.map((refusal, index) => (
      <li key={index}>
        <Refusal refusal={refusal} />
      </li>
    ))}
  </ul>
)
