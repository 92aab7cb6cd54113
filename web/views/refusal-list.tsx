import type { RefusalReply } from '../../server/api/readings.js'
import { sentenceOfCode } from '../format.js'

/** A reason in a sentence: its headline, what to do, what was found. */
export const Refusal = ({ refusal: { code, advice, detail } }: { refusal: RefusalReply }) => (
  <>
    <strong>{sentenceOfCode(code)}.</strong> {advice}
    {detail && <span class="hint"> ({detail})</span>}
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
