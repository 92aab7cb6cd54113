/** Wrong attempts that cost no waiting: a typing error or two is no attack. */
const FREE_ATTEMPTS = 5
const LONGEST_WAIT_MS = 15 * 60_000
const FORGET_MS = 60 * 60_000
const MOST_ADDRESSES = 10_000

interface Failures {
  count: number
  lastMs: number
}

/** One machine has many addresses of IPv6: those of a network of 64 bits, the smallest one hands out, count as one. */
function networkOf(address: string): string {
  if (!address.includes(':') || address.includes('.')) return address
  const [head = '', tail] = address.split('::')
  const before = head.split(':').filter(Boolean)
  const after = (tail ?? '').split(':').filter(Boolean)
  const zeros = tail === undefined ? 0 : Math.max(0, 8 - before.length - after.length)
  return [...before, ...Array<string>(zeros).fill('0'), ...after].slice(0, 4).join(':')
}

/** Makes whoever guesses wait: after five wrong attempts twice as long after each further one, up to a quarter of an hour. */
export function throttle(now: () => number = Date.now) {
  const failures = new Map<string, Failures>()

  function failuresOf(address: string): Failures | undefined {
    const key = networkOf(address)
    const known = failures.get(key)
    if (known && now() - known.lastMs > FORGET_MS) failures.delete(key)
    return failures.get(key)
  }

  return {
    /** How long this address has to wait before its next attempt is looked at. */
    waitS(address: string): number {
      const known = failuresOf(address)
      if (!known || known.count < FREE_ATTEMPTS) return 0
      const waitMs = Math.min(1000 * 2 ** (known.count - FREE_ATTEMPTS), LONGEST_WAIT_MS)
      return Math.max(0, Math.ceil((known.lastMs + waitMs - now()) / 1000))
    },
    failed(address: string): void {
      const count = (failuresOf(address)?.count ?? 0) + 1
      const key = networkOf(address)
      // The newest stand last, so that the first is the one to forget.
      failures.delete(key)
      failures.set(key, { count, lastMs: now() })
      const [oldest] = failures.keys()
      if (failures.size > MOST_ADDRESSES && oldest !== undefined) failures.delete(oldest)
    },
    succeeded(address: string): void {
      failures.delete(networkOf(address))
    },
  }
}
