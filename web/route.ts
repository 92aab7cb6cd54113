import { useEffect, useState } from 'preact/hooks'

/** Where the page is. It lives in the address, so that a reload or a shared link leads back. */
export type Route =
  | { readonly view: 'start' }
  | { readonly view: 'reading'; readonly id: string }
  | { readonly view: 'print'; readonly wish: URLSearchParams }

export function parseRoute(hash: string): Route {
  const [path = '', query = ''] = hash.replace(/^#\/?/, '').split('?')
  const [view, id] = path.split('/')
  if (view === 'reading' && id) return { view, id: decodeURIComponent(id) }
  if (view === 'print') return { view, wish: new URLSearchParams(query) }
  return { view: 'start' }
}

export const startAddress = '#/'
export const readingAddress = (id: string): string => `#/reading/${encodeURIComponent(id)}`

export interface LadderWish {
  readonly layerHeightUm: number
  readonly pixelPitchUm: number
  readonly exposuresS: readonly number[]
}

/** The print form, filled in with a ladder if one is given. */
export function printAddress(wish?: LadderWish): string {
  if (!wish) return '#/print'
  const query = new URLSearchParams({
    layerHeightUm: String(wish.layerHeightUm),
    pixelPitchUm: String(wish.pixelPitchUm),
    exposuresS: wish.exposuresS.join(' '),
  })
  return `#/print?${query}`
}

export const goTo = (address: string): void => {
  window.location.hash = address
}

export function useRoute(): Route {
  const [route, setRoute] = useState(() => parseRoute(window.location.hash))
  useEffect(() => {
    const follow = () => setRoute(parseRoute(window.location.hash))
    window.addEventListener('hashchange', follow)
    return () => window.removeEventListener('hashchange', follow)
  }, [])
  return route
}
