import { useEffect, useRef } from 'preact/hooks'
import { helpAddress } from '../route.js'
import '../style/help.css'
import { codeTitle } from '../format.js'
import { inLanguage } from '../texts/failures.js'
import { helpTexts } from '../texts/help.js'
import { Drawing } from './drawings.js'
import { codesOf, helpTopics } from './help-codes.js'

const nameOf = (code: string) => inLanguage({ code, message: codeTitle(code), advice: '' }).message.replace(/\.$/, '')

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
              {helpTexts.explains} {codesOf(name).map(nameOf).join(' · ')}
            </p>
          </div>
        </section>
      ))}
    </div>
  )
}
