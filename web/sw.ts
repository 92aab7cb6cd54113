// Keeps the page itself, so that it starts without a connection, and leads from the notification of a timer back to it.
// Answers of the service are never kept.

interface FetchEvent extends Event {
  readonly request: Request
  respondWith(response: Promise<Response>): void
}
interface Page {
  focus(): Promise<unknown>
}
interface Worker extends EventTarget {
  skipWaiting(): Promise<void>
  readonly clients: {
    claim(): Promise<void>
    matchAll(options: { type: 'window' }): Promise<readonly Page[]>
    openWindow(address: string): Promise<unknown>
  }
}
interface NoticeEvent extends Event {
  readonly notification: { close(): void }
}
interface WaitingEvent extends Event {
  waitUntil(work: Promise<unknown>): void
}

const worker = self as unknown as Worker
const CACHE = 'page-1'

const isPage = ({ method, url }: Request): boolean => {
  const { origin, pathname } = new URL(url)
  return method === 'GET' && origin === location.origin && !/^\/(api|docs|s|sign-in|metrics)(\/|$)/.test(pathname)
}

async function answer(request: Request): Promise<Response> {
  const cache = await caches.open(CACHE)
  const kept = await cache.match(request)
  // The name of a built file changes with what is in it.
  if (kept && new URL(request.url).pathname.startsWith('/assets/')) return kept
  try {
    const fresh = await fetch(request)
    if (fresh.ok) await cache.put(request, fresh.clone())
    return fresh
  } catch (error) {
    if (kept) return kept
    throw error
  }
}

worker.addEventListener('install', (event) => (event as WaitingEvent).waitUntil(worker.skipWaiting()))
worker.addEventListener('activate', (event) => (event as WaitingEvent).waitUntil(worker.clients.claim()))
worker.addEventListener('fetch', (event) => {
  const { request } = event as FetchEvent
  if (isPage(request)) (event as FetchEvent).respondWith(answer(request))
})

async function showTimers(): Promise<unknown> {
  const [page] = await worker.clients.matchAll({ type: 'window' })
  return page ? page.focus() : worker.clients.openWindow('/#/finish')
}
worker.addEventListener('notificationclick', (event) => {
  ;(event as unknown as NoticeEvent).notification.close()
  ;(event as WaitingEvent).waitUntil(showTimers())
})
