import { useEffect, useRef } from 'preact/hooks'
import { helpAddress } from '../route.js'
import '../style/help.css'
import { helpTexts } from '../texts/help.js'
import { titleOf } from '../texts/reasons.js'
import { Drawing } from './drawings.js'
import { helpCodes, helpTopics } from './help-codes.js'

/** Help in drawings, each with the reasons it explains. */
export function HelpView({ topic }: { topic: string | undefined }) {
  const wanted = useRef<HTMLElement>(null)
  useEffect(() => {
    wanted.current?.focus({ preventScroll: true })
    wanted.current?.scrollIntoView()
  }, [topic])
  return (
    <div class="print">
      <h1>{helpTexts.title}</h1>
      <p class="lead">{helpTexts.lead}</p>
      <nav class="plain chips" aria-label={helpTexts.contents}>
        {helpTopics.map((name) => (
          <a key={name} class="chip" href={helpAddress(name)}>
            {helpTexts.topics[name].title}
          </a>
        ))}
      </nav>
      {helpTopics.map((name) => (
        <section
          key={name}
          class="panel help-topic"
          aria-labelledby={`help-${name}`}
          {...(name === topic ? { ref: wanted, tabIndex: -1 } : {})}
        >
          <Drawing topic={name} />
          <div class="stack">
            <h2 id={`help-${name}`}>{helpTexts.topics[name].title}</h2>
            {helpTexts.topics[name].text.map((sentence) => (
              <p key={sentence}>{sentence}</p>
            ))}
            <p class="hint">
              {helpTexts.explains} {helpCodes[name].map(titleOf).join(' · ')}
            </p>
          </div>
        </section>
      ))}
    </div>
  )
}
