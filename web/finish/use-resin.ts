import { useCallback, useState } from 'preact/hooks'
import type { Resin } from '../../server/api/records.js'
import { findRecords } from '../records-client.js'
import { finishTexts } from '../texts/finish.js'
import { useLoaded } from '../use-loaded.js'
import { keepRoute, recallRoute } from './route-draft.js'

const askResins = () => findRecords('resin', { limit: 500 })

/** The resin that the steps around printing are planned for; its choice outlives the page. */
export function useResin() {
  const [chosen, setChosen] = useState(() => recallRoute().resinId)
  const { reply } = useLoaded(askResins, finishTexts.failed)
  const resins = reply?.records ?? []
  const choose = useCallback((resinId: string) => {
    setChosen(resinId)
    keepRoute({ ...recallRoute(), resinId })
  }, [])
  // A record that was put away since counts as none.
  const sheet: Partial<Resin> = resins.find(({ recordId }) => recordId === chosen)?.content ?? {}
  const known = sheet.name !== undefined
  return { resins, resinId: known ? chosen : '', ready: reply !== undefined || chosen === '', sheet, choose }
}
export type ChosenResin = ReturnType<typeof useResin>
