/**
 * Seeded standard normal draws, the same on every machine: mulberry32 bits through the Box-Muller transform.
 *
 * @see T. Ettinger, mulberry32 (public domain); G. E. P. Box, M. E. Muller, Ann. Math. Stat. 29 (1958) 610 [from memory]
 */
export function normalDraws(seed: number): () => number {
  const uniform = uniformDraws(seed)
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform())
}

/** Seeded draws from [0, 1). */
export function uniformDraws(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let bits = Math.imul(state ^ (state >>> 15), state | 1)
    bits = (bits + Math.imul(bits ^ (bits >>> 7), bits | 61)) ^ bits
    return ((bits ^ (bits >>> 14)) >>> 0) / 2 ** 32
  }
}
