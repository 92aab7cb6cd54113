import { useState } from 'preact/hooks'
import { finishTexts } from '../texts/finish.js'

/** Fields by name. */
export interface SheetFields<Name extends string> {
  valueOf(name: Name): string
  set(name: Name): (value: string) => void
  /** Where the value comes from, or what the sheet says instead of it; `otherwise` where it says nothing. */
  hintOf(name: Name, otherwise?: string): string | undefined
}

type Typed<Name extends string> = Readonly<Partial<Record<Name, string>>>

/**
 * What is typed into fields that a data sheet fills in until somebody types something else.
 *
 * @param resinId of the sheet: with another resin, what was typed over its sheet is forgotten
 * @param sheet what it says of some fields
 * @param usual what the other fields start with
 */
export function useSheetFields<Name extends string>(
  resinId: string,
  sheet: Readonly<Partial<Record<Name, number | undefined>>>,
  usual: Readonly<Record<Name, string>>,
): SheetFields<Name> {
  const [typed, setTyped] = useState({} as Typed<Name>)
  const [forResin, setForResin] = useState(resinId)
  const stated = (name: Name): string | undefined => (sheet[name] === undefined ? undefined : String(sheet[name]))
  let current = typed
  if (forResin !== resinId) {
    current = Object.fromEntries(Object.entries(typed).filter(([name]) => !(name in sheet))) as Typed<Name>
    setTyped(current)
    setForResin(resinId)
  }
  const valueOf = (name: Name): string => current[name] ?? stated(name) ?? usual[name]
  return {
    valueOf,
    set: (name) => (value) => setTyped({ ...current, [name]: value }),
    hintOf: (name, otherwise) => {
      const says = stated(name)
      if (says === undefined) return otherwise
      return valueOf(name) === says ? finishTexts.sheet.from : finishTexts.sheet.says(says)
    },
  }
}
