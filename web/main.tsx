import { hydrate, render } from 'preact'
import { App } from './app.js'
import { language } from './language.js'
import { parseRoute } from './route.js'
import './style/base.css'
import './style/parts.css'
import './style/life.css'
import './style/print.css'

// On https and localhost only; elsewhere the page works without.
if (import.meta.env.PROD && 'serviceWorker' in navigator) {
  const register = () => void navigator.serviceWorker.register('/sw.js')
  // What it keeps is fetched once the page is there, not while one waits for it. Words of another language may come later.
  if (document.readyState === 'complete') register()
  else window.addEventListener('load', register)
}

const { documentElement } = document
const root = document.getElementById('app')!
// The page as it was sent is drawn first, and can be used.
if (!documentElement.classList.contains('elsewhere'))
  await new Promise((drawn) => requestAnimationFrame(() => setTimeout(drawn)))
// The address may have changed since, by a link of the page as it was sent.
if (!documentElement.classList.contains('elsewhere') && parseRoute(window.location.hash).view === 'start')
  hydrate(<App />, root)
else {
  root.replaceChildren()
  render(<App />, root)
}
documentElement.lang = language
documentElement.classList.remove('elsewhere')
