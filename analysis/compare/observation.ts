/** One response of one coupon on one photograph, with all that may make it differ. */
export interface Observation {
  /** What is compared. */
  readonly group: string
  readonly value: number
  /** Stated standard uncertainty of the value alone; taken as shared by the coupons of one photograph. */
  readonly standardUncertainty: number
  readonly photo: string
  /** Standard uncertainty that its photograph adds to all its coupons, beside their own. */
  readonly photoUncertainty: number
  /** The piece: photographed again it is the same. */
  readonly coupon: string
  /** Bottle it was printed from; absent when not known. */
  readonly bottle?: string | undefined
  /** Layer exposure, s. */
  readonly exposureS: number
}
