import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'

interface Props {
  readonly title: string
  /** Stands behind the title, in short. */
  readonly note?: string
  readonly children: ComponentChildren
}

/** A panel that opens on demand; what is in it is made only then. */
export function Disclosure({ title, note, children }: Props) {
  const [opened, setOpened] = useState(false)
  return (
    <details class="panel quiet" onToggle={(event) => event.currentTarget.open && setOpened(true)}>
      <summary>
        {title}
        {note && <span class="summary-note">{note}</span>}
      </summary>
      {opened && <div class="disclosed">{children}</div>}
    </details>
  )
}
