import quantile from '@stdlib/stats-base-dists-normal-quantile'

const STEPS = 4096
/** Normal quantiles at the limits of equally likely steps; the outermost steps end at their own middles. */
const QUANTILES = Float64Array.from({ length: STEPS + 1 }, (_, i) =>
  quantile(Math.min(Math.max(i, 0.25), STEPS - 0.25) / STEPS, 0, 1),
)

/** Seeded source of 32-bit integers: Marsaglia's xorshift, which is quick and good enough for noise. */
export function seeded(seed: number): () => number {
  let state = (Math.imul(seed, 0x9e3779b1) ^ 0x6d2b79f5) >>> 0 || 1
  const next = (): number => {
    state ^= state << 13
    state ^= state >>> 17
    state ^= state << 5
    return state >>> 0
  }
  for (let i = 0; i < 16; i++) next()
  return next
}

/** Seeded standard normal numbers: the quantile function in 4096 linear steps, so its tails end at 3.8. */
export function seededNormal(seed: number): () => number {
  const next = seeded(seed)
  return () => {
    const random = next()
    const step = random >>> 20
    const low = QUANTILES[step] as number
    return low + ((QUANTILES[step + 1] as number) - low) * ((random & 0xfffff) / 0x100000)
  }
}
