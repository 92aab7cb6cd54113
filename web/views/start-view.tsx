import { LadderIcon } from '../icons.js'
import { printAddress } from '../route.js'
import { texts } from '../texts.js'
import { History } from './history.js'
import { PhotoPicker } from './photo-picker.js'

/** The first page: photograph a ladder, or print one. */
export function StartView() {
  const { start, howTo } = texts
  return (
    <div class="start">
      <div class="start-main">
        <h1>{start.title}</h1>
        <p class="lead">{start.lead}</p>
        <PhotoPicker />
        <section class="panel quiet print-invitation" aria-labelledby="no-ladder">
          <div>
            <h2 id="no-ladder">{start.noLadder}</h2>
            <p>{start.noLadderText}</p>
          </div>
          <a class="button" href={printAddress()}>
            <LadderIcon />
            {texts.nav.print}
          </a>
        </section>
      </div>
      <History />
      <section class="how-to" aria-labelledby="how-to">
        <h2 id="how-to">{howTo.title}</h2>
        <ol>
          {howTo.steps.map((step) => (
            <li key={step.title}>
              <h3>{step.title}</h3>
              <p>{step.text}</p>
            </li>
          ))}
        </ol>
      </section>
    </div>
  )
}
