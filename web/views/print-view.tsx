import { goTo, ladderAddress } from '../route.js'
import { texts } from '../texts/page.js'
import { PlanForm } from './plan-form.js'

/** Plans a ladder; its own page then hands out what is to be printed. */
export function PrintView({ wish }: { wish: URLSearchParams }) {
  const words = texts.print
  return (
    <div class="print">
      <h1>{words.title}</h1>
      <p class="lead">{words.lead}</p>
      <PlanForm wish={wish} onMade={({ design }) => goTo(ladderAddress(design.ladderId))} />
    </div>
  )
}
