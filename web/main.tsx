import { render } from 'preact'
import { App } from './app.js'
import './style/base.css'
import './style/parts.css'
import './style/print.css'

const root = document.getElementById('app')
if (root) render(<App />, root)
