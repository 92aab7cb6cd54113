import type { ComponentChildren } from 'preact'
import { useLayoutEffect, useRef, useState } from 'preact/hooks'
import { TableHead } from './table-head.js'

interface Props {
  /** A name a column. */
  readonly head: readonly string[]
  /** Stands above it. */
  readonly caption?: string
  /** What it is called where nothing stands above it. */
  readonly label?: string
  /** Id of the heading that names it instead. */
  readonly labelledBy?: string
  /** Its bodies. */
  readonly children: ComponentChildren
}

/** A small table of numbers. One that is wider than the page scrolls by itself, with the keyboard too. */
export function ValueTable({ head, caption, label, labelledBy, children }: Props) {
  const frame = useRef<HTMLDivElement>(null)
  const [wider, setWider] = useState(false)
  useLayoutEffect(() => {
    const { current } = frame
    if (!current) return
    const watch = new ResizeObserver(() => setWider(current.scrollWidth > current.clientWidth))
    watch.observe(current)
    if (current.firstElementChild) watch.observe(current.firstElementChild)
    return () => watch.disconnect()
  }, [])
  const name = labelledBy ? { 'aria-labelledby': labelledBy } : { 'aria-label': label ?? caption ?? head.join(', ') }
  return (
    <div ref={frame} class="scroll" {...(wider && { role: 'group', tabIndex: 0, ...name })}>
      <table class="values" {...(!caption && name)}>
        {caption && <caption>{caption}</caption>}
        <TableHead names={head} />
        {children}
      </table>
    </div>
  )
}
