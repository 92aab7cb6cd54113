import type { ComponentChildren } from 'preact'

export type Fact = readonly [name: string, value: ComponentChildren]

/** Names with their values. `compact`: several short ones beside each other. */
export const FactList = ({ facts, compact = false }: { facts: readonly Fact[]; compact?: boolean }) => (
  <dl class={compact ? 'facts compact' : 'facts'}>
    {facts.map(([name, value]) => (
      <div key={name}>
        <dt>{name}</dt>
        <dd>{value}</dd>
      </div>
    ))}
  </dl>
)
