import type { Draw, DrawnCase } from './cases.js'

/** One coupon read, against its truth. Lengths in um; growth per side. */
export interface CouponRecord {
  readonly slot: number
  readonly growthErrorUm: number
  /** Standard uncertainties: of the absolute growth, and of what differs between coupons of a photograph. */
  readonly absoluteUm: number
  readonly withinUm: number
  /** The same of the terms that the picture can show at all: a drawn coupon is flat and its mask has no pixels. */
  readonly shownUm: number
  readonly shownWithinUm: number
  readonly printThroughErrorUm?: number
  readonly printThroughUm?: number
  /** Path-traced grooves: the view's angle across the lines, how far the far wall lies beside the rim, what edges read. */
  readonly askew?: { readonly acrossDeg: number; readonly besideUm: number; readonly edgeErrorUm: number }
}

/** What one photograph gave. */
export interface PhotoRecord {
  readonly group: DrawnCase['group'] | 'path-traced'
  readonly draw?: Draw
  readonly name: string
  readonly umPerPx?: number
  /** Codes of the warnings, or of the refusal. */
  readonly warnings: readonly string[]
  readonly refused: readonly string[]
  readonly coupons: readonly CouponRecord[]
  readonly ink?: { readonly method: string; readonly rimUm: number }
  readonly doseToSize?: { readonly errorPercent: number; readonly inside: boolean; readonly halfWidthPercent: number }
  /** Each grating of a repeat: error of its mean line width against the least scatter that noise allows. */
  readonly means?: readonly { readonly pitchMm: number; readonly errorUm: number; readonly boundUm: number }[]
}

/** An error and the standard uncertainty it is judged by. */
export interface Judged {
  readonly error: number
  readonly uncertainty: number
}

/** One window read, or why not: errors against the truth, and standard uncertainties. */
export interface WindowRecord {
  readonly group:
    'single' | 'layer lines' | 'alike' | 'other frames' | 'low panel' | 'whole, honest' | 'whole, finished'
  readonly scene: string
  readonly slot: number
  readonly refused?: string
  readonly haze?: Judged & { readonly truth: number }
  readonly deltaB?: Judged
}

/** To be rounded to what the numbers are worth. */
export const rounded = (value: number): number => Number(value.toFixed(3))
