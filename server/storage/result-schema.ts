import { createHash } from 'node:crypto'
import { Compile } from 'typebox/compile'
import { LadderReading } from '../../analysis/index.js'

/** Name of the shape that results have in this version of the program. */
export const RESULT_SCHEMA = createHash('sha256').update(JSON.stringify(LadderReading)).digest('hex').slice(0, 16)

const shape = Compile(LadderReading)

/**
 * A stored result, unless it was made by a version of the program whose results had another shape.
 *
 * @param schema `RESULT_SCHEMA` of the version that stored it; results older than that name have none
 */
export function currentResult(result: string, schema: string | null): LadderReading | undefined {
  const parsed: unknown = JSON.parse(result)
  // A shape of another name may still fit: what was added since may be optional.
  return schema === RESULT_SCHEMA || shape.Check(parsed) ? (parsed as LadderReading) : undefined
}
