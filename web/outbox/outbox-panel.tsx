import { useEffect, useState } from 'preact/hooks'
import { readingAddress } from '../route.js'
import { lifeTexts } from '../texts/life.js'
import { dropParcel, isSending, keepSending, listParcels, onOutboxChange, type Parcel } from './outbox.js'

const words = lifeTexts.outbox

/** Photographs that are not with the service yet, on every page. */
export function OutboxPanel() {
  const [parcels, setParcels] = useState<readonly Parcel[]>([])
  const [arrived, setArrived] = useState<{ name: string; readingId: string }>()
  useEffect(() => {
    const show = () =>
      void listParcels().then(setParcels, () => {
        // A browser that keeps nothing has nothing waiting either.
      })
    show()
    const stopListening = onOutboxChange(show)
    const stopSending = keepSending(({ name }, { readingId }) => setArrived({ name, readingId }))
    return () => {
      stopListening()
      stopSending()
    }
  }, [])
  const shown = parcels.filter(({ uploadId, refused }) => refused !== undefined || !isSending(uploadId))
  return (
    <div class="outbox" role="status">
      {arrived && (
        <p class="note">
          {words.arrived(arrived.name)} <a href={readingAddress(arrived.readingId)}>{words.open}</a>
        </p>
      )}
      {shown.length > 0 && (
        <section class="note warning" aria-labelledby="outbox">
          <h2 id="outbox">{words.title}</h2>
          <ul>
            {shown.map(({ uploadId, name, refused }) => (
              <li key={uploadId}>
                {name}: {refused === undefined ? words.waiting : words.refused(refused)}{' '}
                {refused !== undefined && (
                  <button type="button" onClick={() => void dropParcel(uploadId)}>
                    {words.drop}
                  </button>
                )}
              </li>
            ))}
          </ul>
        </section>
      )}
    </div>
  )
}
