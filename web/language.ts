import { recallText, rememberText } from './remembered.js'

/** Languages of the page, each by its own name. */
export const languages = { en: 'English', de: 'Deutsch' } as const
export type Language = keyof typeof languages

const isLanguage = (name: string | undefined): name is Language => name !== undefined && name in languages

/** What was chosen here, else what the browser asks for, else English. */
export const language: Language = (() => {
  // Tests of single parts run outside a browser, and so does the build.
  const wished = typeof navigator === 'undefined' ? [] : navigator.languages
  const asked = [recallText('language'), ...wished.map((tag) => tag.slice(0, 2))]
  return asked.find(isLanguage) ?? 'en'
})()

/** Words are fixed when the page loads, so another language loads it anew. */
export function chooseLanguage(name: Language): void {
  rememberText('language', name)
  // For the service, which sends the page with its words.
  document.cookie = `language=${name}; path=/; max-age=31536000; samesite=lax`
  window.location.reload()
}

/** The same texts in any language: the structure of the English ones. */
export type Words<T> = T extends string
  ? string
  : T extends (...args: infer Arguments) => string
    ? (...args: Arguments) => string
    : { readonly [Key in keyof T]: Words<T[Key]> }
