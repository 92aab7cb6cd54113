import { renderToString } from 'preact-render-to-string'
import { App } from './app.js'

/** The page as it is sent: its big action works before the script has come. */
export const firstView = (): string => renderToString(<App />)
