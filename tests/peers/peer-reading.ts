/** What another reader says of one coupon; null where it says nothing. */
export interface PeerRung {
  readonly growthUm: number
  readonly printThroughUm: number
  /** Width of each gap along the build by its id, um; null: closed. */
  readonly gapsUm: Readonly<Record<string, number | null>>
  /** Whether each isolated line stands and each isolated space is open, by its id. */
  readonly survives: Readonly<Record<string, boolean>>
  /** Share of the light through the window that is scattered widely. */
  readonly hazeIndex: number
  /** Share of their amplitude that bars keep, by their group. */
  readonly kept: Readonly<Record<'fine' | 'medium' | 'across', number>>
  /** Change of CIE b* that the plate makes of white. */
  readonly deltaB: number
  /** How many spots and scratches the window has. */
  readonly defects: number
}

/** A whole photograph, read by another program: one entry a slot, and the two trends against ln(exposure). */
export interface PeerReading {
  readonly rungs: readonly (PeerRung | null)[]
  readonly doseToSizeS: number
  readonly penetrationDepthUm: number
}
