import type { RefusalReply } from '../../server/api/readings.js'
import { topicOf } from '../help/help-codes.js'
import { helpAddress } from '../route.js'
import { helpTexts } from '../texts/help.js'
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
export const Refusal = ({ refusal }: { refusal: RefusalReply }) => (
  <>
    <strong>{titleOf(refusal.code)}.</strong> {adviceOf(refusal)}
    {refusal.detail && (
      <span class="hint">
        {' '}
        (<span lang="en">{refusal.detail}</span>)
      </span>
    )}{' '}
    <HelpLink code={refusal.code} />
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
