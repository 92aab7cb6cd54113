let voice = false
let asked = false

/**
 * Of several pages of one browser only one speaks: whoever asked first, until it is closed.
 *
 * Where a browser has no locks, as over plain http, each speaks.
 */
export function askForVoice(): void {
  if (asked) return
  asked = true
  if (!('locks' in navigator)) {
    voice = true
    return
  }
  void navigator.locks.request('timer-voice', () => {
    voice = true
    return new Promise<never>(() => undefined)
  })
}

export const hasVoice = (): boolean => voice
