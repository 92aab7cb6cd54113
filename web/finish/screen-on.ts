let lock: WakeLockSentinel | undefined

/** Whether the screen is held on now. */
export const screenStaysOn = (): boolean => lock !== undefined && !lock.released

/** Asks that the screen stays on. The browser lets go whenever the page is hidden, so ask again when it is back. */
export async function keepScreenOn(): Promise<void> {
  if (screenStaysOn() || document.visibilityState !== 'visible') return
  try {
    lock = await navigator.wakeLock.request('screen')
  } catch {
    // Not over plain http, not on every phone: the wall clock makes up for it.
  }
}

export function letScreenGo(): void {
  void lock?.release()
  lock = undefined
}
