import { useLayoutEffect, useState } from 'preact/hooks'
import type { RecordKind } from '../server/api/records.js'

/** Where the page is. It lives in the address, so that a reload or a shared link leads back. */
export type Route =
  | { readonly view: 'start' }
  | { readonly view: 'reading'; readonly id: string }
  | { readonly view: 'ladders' | 'compare' | 'more' | 'phone' | 'data' }
  | { readonly view: 'ladder'; readonly id: string }
  | { readonly view: 'pair' | 'setting'; readonly id: string }
  | { readonly view: 'take-in' }
  | { readonly view: 'records'; readonly kind: RecordKind }
  | { readonly view: 'help'; readonly topic: string | undefined }
  | { readonly view: 'print'; readonly wish: URLSearchParams }
  | { readonly view: 'finish'; readonly tool: FinishTool | undefined }
  | { readonly view: 'plan'; readonly tool: Tool | undefined; readonly wish: URLSearchParams }

/** What the planning page answers. */
export const tools = ['first-ladder', 'layer-height', 'working-curve', 'lamp'] as const
export type Tool = (typeof tools)[number]

/** The pages about the steps around printing. */
export const finishTools = ['route', 'prepare', 'post-cure', 'smooth'] as const
export type FinishTool = (typeof finishTools)[number]

export function parseRoute(hash: string): Route {
  const [path = '', query = ''] = hash.replace(/^#\/?/, '').split('?')
  const [view, id] = path.split('/')
  if (view === 'reading' && id) return { view, id: decodeURIComponent(id) }
  if ((view === 'ladder' || view === 'pair' || view === 'setting') && id) return { view, id: decodeURIComponent(id) }
  if (view === 'ladders' || view === 'compare' || view === 'more' || view === 'phone' || view === 'data')
    return { view }
  if (view === 'records') return { view, kind: recordKinds.find((kind) => kind === id) ?? 'bottle' }
  if (view === 'help') return { view, topic: id }
  if (view === 'take-in') return { view }
  if (view === 'print') return { view, wish: new URLSearchParams(query) }
  if (view === 'finish') return { view, tool: finishTools.find((tool) => tool === id) }
  if (view === 'plan') return { view, tool: tools.find((tool) => tool === id), wish: new URLSearchParams(query) }
  return { view: 'start' }
}

/** What is kept on record besides ladders. */
export const recordKinds = ['bottle', 'resin', 'printer', 'setting', 'report'] as const satisfies readonly RecordKind[]

export const startAddress = '#/'
export const laddersAddress = '#/ladders'
export const ladderAddress = (id: string): string => `#/ladder/${encodeURIComponent(id)}`
export const pairAddress = (ladderId: string): string => `#/pair/${encodeURIComponent(ladderId)}`
export const recordsAddress = (kind: RecordKind): string => `#/records/${kind}`
export const settingAddress = (recordId: string): string => `#/setting/${encodeURIComponent(recordId)}`
export const takeInAddress = '#/take-in'
export const helpAddress = (topic?: string): string => `#/help${topic ? `/${topic}` : ''}`
export const moreAddress = '#/more'
export const phoneAddress = '#/phone'
export const dataAddress = '#/data'
export const compareAddress = '#/compare'
export const finishAddress = (tool?: FinishTool): string => `#/finish${tool ? `/${tool}` : ''}`
export const readingAddress = (id: string): string => `#/reading/${encodeURIComponent(id)}`

export interface LadderWish {
  readonly layerHeightUm: number
  /** Default: what was typed last. */
  readonly pixelPitchUm?: number
  readonly exposuresS: readonly number[]
}

/** The print form, filled in with a ladder if one is given. */
export function printAddress(wish?: LadderWish): string {
  if (!wish) return '#/print'
  const query = new URLSearchParams({
    layerHeightUm: String(wish.layerHeightUm),
    ...(wish.pixelPitchUm === undefined ? {} : { pixelPitchUm: String(wish.pixelPitchUm) }),
    exposuresS: wish.exposuresS.join(' '),
  })
  return `#/print?${query}`
}

/** The planning page or one of its tools, filled in with what is given. */
export function planAddress(tool?: Tool, wish: Readonly<Record<string, string>> = {}): string {
  const query = new URLSearchParams(wish).toString()
  return `#/plan${tool ? `/${tool}` : ''}${query && `?${query}`}`
}

export const goTo = (address: string): void => {
  window.location.hash = address
}

export function useRoute(): Route {
  const [route, setRoute] = useState(() => parseRoute(window.location.hash))
  // At once, not after painting: an address that changes in between would be missed.
  useLayoutEffect(() => {
    const follow = () => setRoute(parseRoute(window.location.hash))
    window.addEventListener('hashchange', follow)
    return () => window.removeEventListener('hashchange', follow)
  }, [])
  return route
}
