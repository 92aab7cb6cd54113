import type { FunctionComponent } from 'preact'
import { useEffect, useState } from 'preact/hooks'
import { texts } from './texts/page.js'

/**
 * A part of the page whose code is fetched once it is first shown.
 *
 * @param load imports the part
 */
export function later<Props extends object>(load: () => Promise<FunctionComponent<Props>>): FunctionComponent<Props> {
  let loaded: FunctionComponent<Props> | undefined
  return function Later(props: Props) {
    const [Part, setPart] = useState(() => loaded)
    const [failed, setFailed] = useState(false)
    useEffect(() => {
      if (Part) return
      let gone = false
      load().then(
        (part) => {
          loaded = part
          if (!gone) setPart(() => part)
        },
        () => !gone && setFailed(true),
      )
      return () => {
        gone = true
      }
    }, [Part])
    if (failed) return <p class="note bad">{texts.later.failed}</p>
    return Part ? <Part {...props} /> : <div class="waiting" aria-busy="true" />
  }
}
