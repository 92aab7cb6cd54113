/** What this browser says of notifications here; `none` where it has none, as over plain http. */
export type NoticeState = NotificationPermission | 'none'

export const noticeState = (): NoticeState =>
  'Notification' in window && 'serviceWorker' in navigator && window.isSecureContext ? Notification.permission : 'none'

/** To be called from a tap only: a browser asks nobody who did not touch anything. */
export const askForNotices = async (): Promise<NoticeState> =>
  noticeState() === 'default' ? await Notification.requestPermission() : noticeState()

/** A notification, where allowed, for a page that is not in front: one of the same timer takes its place. */
export async function notify(timer: string, cue: string): Promise<void> {
  if (noticeState() !== 'granted' || document.visibilityState === 'visible') return
  const registration = await navigator.serviceWorker.ready
  await registration.showNotification(timer, { body: cue, tag: `timer ${timer}`, requireInteraction: true })
}
