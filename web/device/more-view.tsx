import { chooseLanguage, language, languages, type Language } from '../language.js'
import { dataAddress, helpAddress, phoneAddress, recordKinds, recordsAddress } from '../route.js'
import { lifeTexts } from '../texts/life.js'
import { chooseUnits, units, type Units } from '../units.js'

const words = lifeTexts.more

const links = [
  [phoneAddress, words.phone, words.phoneText],
  [dataAddress, words.data, words.dataText],
  [helpAddress(), words.help, words.helpText],
] as const

/** What is needed now and then: records, phone, export, help, language, units. */
export function MoreView() {
  return (
    <div class="print">
      <h1>{words.title}</h1>
      <div class="print-body">
        <nav class="stack plain" aria-label={words.title}>
          <ul class="entries">
            {recordKinds.map((kind) => (
              <li key={kind}>
                <a class="entry wide" href={recordsAddress(kind)}>
                  <span class="tool-name">{lifeTexts.records.kinds[kind]}</span>
                </a>
              </li>
            ))}
            {links.map(([address, title, text]) => (
              <li key={address}>
                <a class="entry wide" href={address}>
                  <span class="tool-name">{title}</span>
                  <span class="entry-time">{text}</span>
                </a>
              </li>
            ))}
          </ul>
        </nav>
        <div class="stack">
          <Choices
            legend={words.language}
            names={languages}
            chosen={language}
            choose={(name: Language) => chooseLanguage(name)}
          />
          <Choices
            legend={words.units}
            names={words.unitNames}
            chosen={units}
            choose={(name: Units) => chooseUnits(name)}
          />
        </div>
      </div>
    </div>
  )
}

function Choices<Name extends string>(props: {
  legend: string
  names: Readonly<Record<Name, string>>
  chosen: Name
  choose: (name: Name) => void
}) {
  const { legend, names, chosen, choose } = props
  return (
    <fieldset class="panel">
      <legend>{legend}</legend>
      <div class="choices">
        {(Object.keys(names) as Name[]).map((name) => (
          <label key={name} class="choice">
            <input type="radio" name={legend} checked={name === chosen} onChange={() => choose(name)} />
            {names[name]}
          </label>
        ))}
      </div>
    </fieldset>
  )
}
