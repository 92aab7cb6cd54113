import { render } from 'preact-render-to-string'

const STYLE = `
:root { color-scheme: light dark; font: 1.06rem/1.5 system-ui, sans-serif; --paper: #f3f4f1; --surface: #fff; --ink: #1b2628;
  --edge: #7b898b; --accent: #12566b; --on-accent: #fff; --focus: #0b57d0; --bad: #8a1c1c; --bad-paper: #fdecea }
@media (prefers-color-scheme: dark) { :root { --paper: #111719; --surface: #1a2225; --ink: #e8eeee; --edge: #77878b;
  --accent: #8fd0e0; --on-accent: #07242d; --focus: #9ec5ff; --bad: #ffb9b2; --bad-paper: #351c1b } }
* { box-sizing: border-box }
body { margin: 0; padding: 1.25rem; min-height: 100vh; display: grid; place-items: center; background: var(--paper); color: var(--ink) }
main { width: min(100%, 25rem); padding: 1.5rem; background: var(--surface); border-radius: 14px }
h1 { margin: 0 0 .5rem; font-size: 1.5rem } p { margin: .5rem 0 }
label { display: block; margin-top: 1.25rem; font-weight: 600 }
input, button { display: block; width: 100%; min-height: 3.2rem; margin-top: .5rem; padding: .6rem .9rem; font: inherit; border-radius: 10px }
input { border: 1.5px solid var(--edge); background: var(--surface); color: var(--ink) }
button { margin-top: 1rem; border: 0; background: var(--accent); color: var(--on-accent); font-weight: 600; cursor: pointer }
:focus-visible { outline: 3px solid var(--focus); outline-offset: 2px }
.bad { padding: .6rem .9rem; border-radius: 10px; background: var(--bad-paper); color: var(--bad) }
.hint { font-size: .95rem; opacity: .85 }
`

const en = {
  title: 'Sign in',
  about: 'This Stepglass is open to its network, to whoever has the passphrase.',
  label: 'Passphrase',
  button: 'Sign in',
  where: 'It stands where the service was started, and on the page “Open on a phone” of a device that is signed in.',
  wrong: 'That is not the passphrase. Capitals and small letters count.',
  wait: (seconds: number) => `Too many wrong attempts. Try again in ${seconds} s.`,
}
const de: typeof en = {
  title: 'Anmelden',
  about: 'Dieses Stepglass ist in seinem Netz offen, für alle mit der Losung.',
  label: 'Losung',
  button: 'Anmelden',
  where:
    'Sie steht dort, wo der Dienst gestartet wurde, und auf der Seite „Auf dem Telefon öffnen“ eines angemeldeten Geräts.',
  wrong: 'Das ist nicht die Losung. Groß- und Kleinschreibung zählt.',
  wait: (seconds) => `Zu viele falsche Versuche. In ${seconds} s wieder versuchen.`,
}

/** What became of the last attempt. */
export type Attempt = 'wrong' | { readonly waitS: number } | undefined

/** Whether German is wanted before English (RFC 9110, 12.5.4; both without weights come in the order of preference). */
const wantsGerman = (acceptLanguage: string) => /^\s*de\b/i.test(/\b(de|en)\b.*/i.exec(acceptLanguage)?.[0] ?? '')

/** The page that asks for the passphrase: a form that needs no script, in the language the browser asks for. */
export function signInPage(acceptLanguage: string, attempt: Attempt): string {
  const german = wantsGerman(acceptLanguage)
  const words = german ? de : en
  const failure = attempt && (attempt === 'wrong' ? words.wrong : words.wait(attempt.waitS))
  const page = (
    <html lang={german ? 'de' : 'en'}>
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <title>{`${words.title} - Stepglass`}</title>
        <style dangerouslySetInnerHTML={{ __html: STYLE }} />
      </head>
      <body>
        <main>
          <h1>{words.title}</h1>
          <p>{words.about}</p>
          {failure && (
            <p class="bad" role="alert" id="failure">
              {failure}
            </p>
          )}
          {/* Without an address of its own the form keeps the place in the page that was asked for. */}
          <form method="post">
            <label for="passphrase">{words.label}</label>
            <input
              id="passphrase"
              name="passphrase"
              type="password"
              autocomplete="current-password"
              autocapitalize="off"
              spellcheck={false}
              required
              autofocus
              maxLength={200}
              aria-describedby={failure ? 'failure where' : 'where'}
              aria-invalid={attempt === 'wrong'}
            />
            <button>{words.button}</button>
          </form>
          <p class="hint" id="where">
            {words.where}
          </p>
        </main>
      </body>
    </html>
  )
  return `<!doctype html>${render(page)}`
}
