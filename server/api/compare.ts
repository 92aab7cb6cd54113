import { Type } from 'typebox'
import { CompareOptions } from '../../analysis/index.js'

export type { Comparison, CompareBy, CompareOf } from '../../analysis/index.js'

export const CompareQuery = Type.Object(
  {
    ...CompareOptions.properties,
    readings: Type.Array(Type.String(), {
      minItems: 1,
      maxItems: 40,
      description: 'readings, repeated; each takes the labels of its ladder',
    }),
  },
  { additionalProperties: false },
)
