// npm run bench [-- store | -- page | -- queue]: one timing; each file says what it times.
const BENCHES = {
  reading: () => import('./bench.js'),
  store: () => import('./store.js'),
  page: () => import('./page.js'),
  queue: () => import('./queue.js'),
}

const asked = process.argv[2] ?? 'reading'
if (!(asked in BENCHES)) throw new Error(`npm run bench knows ${Object.keys(BENCHES).join(', ')}; got ${asked}`)
await BENCHES[asked as keyof typeof BENCHES]()
