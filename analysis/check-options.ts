import { Type } from 'typebox'
import { Value } from 'typebox/value'
import { MeasureOptions } from './result.js'

const Given = Type.Partial(MeasureOptions)

/** What in given options lies outside their schema, as `name what is wanted`; absent when nothing does. */
export function flawOfOptions(options: Partial<MeasureOptions>): string | undefined {
  const [error] = Value.Errors(Given, options)
  return error && `${error.instancePath.slice(1)} ${error.message}`
}
