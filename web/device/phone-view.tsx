import { useCallback } from 'preact/hooks'
import { getInvitation } from '../records-client.js'
import { lifeTexts } from '../texts/life.js'
import { useLoaded } from '../use-loaded.js'
import { FailureNote } from '../views/failure-note.js'

const words = lifeTexts.phone

/** How a phone in the workshop opens this page. */
export function PhoneView() {
  const { reply, failure } = useLoaded(useCallback(getInvitation, []), words.failed)
  return (
    <div class="print">
      <h1>{words.title}</h1>
      {failure && <FailureNote failure={failure} />}
      {reply && !reply.open && (
        <section class="panel">
          <p>{words.closed}</p>
          <pre>{words.command}</pre>
        </section>
      )}
      {reply?.open && (
        <section class="panel invitation">
          <p>{words.scan}</p>
          {reply.addresses.map(({ url, codeSvg }) => (
            <figure key={url}>
              <img src={`data:image/svg+xml,${encodeURIComponent(codeSvg)}`} alt={words.codeAlt(url)} />
              <figcaption>{url}</figcaption>
            </figure>
          ))}
          <p>{words.passphrase}</p>
          <p class="passphrase">{reply.passphrase}</p>
          <p class="hint">{words.plain}</p>
          <form method="post" action="/sign-out">
            <button>{words.signOut}</button>
          </form>
        </section>
      )}
      <p class="hint">{words.install}</p>
    </div>
  )
}
