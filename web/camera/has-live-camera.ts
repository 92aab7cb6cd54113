/** Whether this browser gives a live picture here: on https and localhost only. */
export const hasLiveCamera = (): boolean =>
  window.isSecureContext && typeof navigator.mediaDevices?.getUserMedia === 'function'
