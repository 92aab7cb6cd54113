import { texts } from '../texts/page.js'

/** Says that a photograph was computed. Shown wherever such a photograph or its numbers are. */
export const SimulatedNote = () => (
  <div class="note simulated">
    <p>
      <strong>{texts.demo.badge}.</strong> {texts.demo.text}
    </p>
  </div>
)
