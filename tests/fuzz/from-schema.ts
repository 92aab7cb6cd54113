import fc from 'fast-check'
import { nastyText, nastyValue } from './nasty.js'

export interface JsonSchema {
  readonly $ref?: string
  readonly type?: string
  readonly const?: unknown
  readonly enum?: readonly unknown[]
  readonly anyOf?: readonly JsonSchema[]
  readonly allOf?: readonly JsonSchema[]
  readonly properties?: Readonly<Record<string, JsonSchema>>
  readonly required?: readonly string[]
  readonly items?: JsonSchema | readonly JsonSchema[]
  readonly minItems?: number
  readonly maxItems?: number
  readonly minimum?: number
  readonly maximum?: number
  readonly exclusiveMinimum?: number
  readonly exclusiveMaximum?: number
  readonly maxLength?: number
  readonly pattern?: string
}

const numberOf = ({ minimum, maximum, exclusiveMinimum, exclusiveMaximum }: JsonSchema) => {
  const [low, high] = [minimum ?? exclusiveMinimum ?? -1e6, maximum ?? exclusiveMaximum ?? 1e6]
  return fc.oneof(fc.constantFrom(low, high, 1, 2, 50), fc.double({ min: low, max: Math.max(low, high), noNaN: true }))
}

const patternOf = (pattern: string): fc.Arbitrary<string> => {
  try {
    return fc.stringMatching(new RegExp(pattern))
  } catch {
    return nastyText
  }
}

/** Values that follow a schema, so that they reach what lies behind its check; now and then one that does not. */
export function fromSchema(schema: JsonSchema, named: Readonly<Record<string, JsonSchema>>): fc.Arbitrary<unknown> {
  const follow = (one: JsonSchema) => fromSchema(one, named)
  const right = (): fc.Arbitrary<unknown> => {
    if (schema.$ref !== undefined) return follow(named[schema.$ref.replace(/.*\//, '')] ?? {})
    if ('const' in schema) return fc.constant(schema.const)
    if (schema.enum) return fc.constantFrom(...schema.enum)
    if (schema.anyOf) return fc.oneof(...schema.anyOf.map(follow))
    switch (schema.type) {
      case 'object': {
        const properties = schema.properties ?? {}
        const fields = Object.fromEntries(Object.entries(properties).map(([name, one]) => [name, follow(one)]))
        return fc.record(fields, { requiredKeys: [...(schema.required ?? [])].filter((name) => name in fields) })
      }
      case 'array': {
        const { items = {}, minItems = 0, maxItems = 8 } = schema
        if ('length' in items) return fc.tuple(...items.map(follow))
        return fc.array(follow(items), {
          minLength: minItems,
          maxLength: Math.min(maxItems, minItems + 8),
        })
      }
      case 'number':
        return numberOf(schema)
      case 'integer':
        return numberOf(schema).map(Math.round)
      case 'boolean':
        return fc.boolean()
      case 'string':
        return schema.pattern === undefined
          ? nastyText.map((text) => text.slice(0, schema.maxLength))
          : patternOf(schema.pattern)
      default:
        return nastyValue
    }
  }
  return fc.oneof({ weight: 14, arbitrary: right() }, { weight: 1, arbitrary: nastyValue })
}
