import { handOnTexts } from '../texts/hand-on.js'
import { tableUrl } from './sheets-client.js'

const words = handOnTexts.table

/** The settings of a list as one table to publish. */
export const TableLinks = ({ ids }: { ids: readonly string[] }) => (
  <section class="panel quiet" aria-labelledby="publish">
    <h2 id="publish">{words.title}</h2>
    <p>{words.text}</p>
    <div class="downloads">
      {(['html', 'csv', 'json'] as const).map((form) => (
        <a key={form} class="button" href={tableUrl(form, ids)} download>
          {words.forms[form]}
        </a>
      ))}
    </div>
  </section>
)
