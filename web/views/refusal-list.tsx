import type { RefusalReply } from '../../server/api/readings.js'
import { topicOf } from '../help/help-codes.js'
import { helpAddress } from '../route.js'
import { helpTexts } from '../texts/help.js'
import { detailOf } from '../texts/details.js'
import { adviceOf, titleOf } from '../texts/reasons.js'

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
export function Refusal({ refusal }: { refusal: RefusalReply }) {
  const found = detailOf(refusal.detail)
  return (
    <>
      <strong>{titleOf(refusal.code)}.</strong> {adviceOf(refusal)}
      {found && <span class="hint"> ({found})</span>} <HelpLink code={refusal.code} />
    </>
  )
}

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
