// Serves the interface from its sources and restarts the server when a file changes: `npm run dev`.
import { spawn } from 'node:child_process'

const processes = [
  spawn(process.execPath, ['--import', 'tsx', '--watch', 'server/main.ts'], { stdio: 'inherit' }),
  spawn(process.execPath, ['node_modules/vite/bin/vite.js'], { stdio: 'inherit' }),
]
const stop = () => processes.forEach((child) => child.kill())
for (const child of processes) child.once('exit', stop)
for (const signal of ['SIGINT', 'SIGTERM']) process.once(signal, stop)
