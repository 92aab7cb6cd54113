import { render } from 'preact'
import { App } from './app.js'
import { language } from './language.js'
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

document.documentElement.lang = language
const root = document.getElementById('app')
if (root) render(<App />, root)
