import type { RefObject } from 'preact'
import { useEffect } from 'preact/hooks'

/**
 * Keeps the focus where it was when a change takes it away: a button that is busy gets it back, and of what is gone the
 * nearest part around it that is still there gets it. Otherwise keyboard and screen reader would begin at the top again.
 */
export function useKeptFocus(within: RefObject<HTMLElement | null>): void {
  useEffect(() => {
    const root = within.current
    if (!root) return
    let way: HTMLElement[] = []
    const remember = ({ target }: FocusEvent) => {
      way = []
      for (let at = target as HTMLElement | null; at && at !== root; at = at.parentElement) way.push(at)
    }
    // Who points beside everything leaves on purpose, and is not brought back.
    const forget = () => {
      way = []
    }
    const keep = () => {
      const [last] = way
      if (!last || document.activeElement !== document.body || last.matches(':disabled')) return
      const there = way.find((part) => part.isConnected) ?? root
      if (there !== last && there.tabIndex < 0) there.tabIndex = -1
      there.focus({ preventScroll: true })
    }
    const watcher = new MutationObserver(keep)
    watcher.observe(root, { childList: true, subtree: true, attributes: true, attributeFilter: ['disabled'] })
    root.addEventListener('focusin', remember)
    root.addEventListener('pointerdown', forget)
    return () => {
      watcher.disconnect()
      root.removeEventListener('focusin', remember)
      root.removeEventListener('pointerdown', forget)
    }
  }, [within])
}
