import { Value } from 'typebox/value'
import { LadderDesign, ladderLayout, type Factor, type LadderLayout } from '../../analysis/index.js'
import { newLadderId } from '../random-name.js'
import { UsageError } from '../usage-error.js'

export interface DesignOptions {
  readonly id?: string
  readonly layerUm: number
  readonly pixelUm: number
  readonly exposures: number[]
  readonly factor?: Factor
  readonly levels?: string[]
}

const FLAGS: readonly (readonly [string, string])[] = [
  ['/ladderId', '--id'],
  ['/layerHeightUm', '--layer-um'],
  ['/pixelPitchUm', '--pixel-um'],
  ['/exposuresS', '--exposures'],
  ['/factor', '--factor'],
  ['/levels', '--levels'],
]

/** The ladder the options describe. A name made up for it is told, since card and coupons must share it. */
export function layoutOf({ id, layerUm, pixelUm, exposures, factor, levels }: DesignOptions): LadderLayout {
  const ladderId = id ?? newLadderId()
  const design = {
    ladderId,
    layerHeightUm: layerUm,
    pixelPitchUm: pixelUm,
    exposuresS: levels && exposures.length === 1 ? levels.map(() => exposures[0]!) : exposures,
    ...(factor && { factor }),
    ...(levels && { levels }),
  }
  const [error] = Value.Errors(LadderDesign, design)
  if (error) {
    const flag = FLAGS.find(([path]) => error.instancePath.startsWith(path))?.[1] ?? 'the design'
    throw new UsageError(`${flag} ${error.message}`)
  }
  try {
    const layout = ladderLayout(design)
    if (id === undefined) console.error(`New ladder ${ladderId}; pass --id ${ladderId} for its other files.`)
    return layout
  } catch (error) {
    throw error instanceof RangeError ? new UsageError(error.message) : error
  }
}
