import { fileURLToPath } from 'node:url'
import { buildApp } from './app.js'

// Run from source (`npm run dev`), the server takes the interface of the last build.
const built = import.meta.url.endsWith('.ts') ? '../dist/web' : '../web'
const app = await buildApp({ webFolder: fileURLToPath(new URL(built, import.meta.url)), logger: true })
await app.listen({ port: Number(process.env['PORT'] ?? 8080), host: process.env['HOST'] ?? '127.0.0.1' })
for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => void app.close())
