/** What limits an exposure. */
export interface Limit {
  readonly by: 'walls' | 'gaps' | 'haze' | 'yellowness' | 'growth' | 'readings'
  /** Goes on after "limited by". */
  readonly inWords: string
}
