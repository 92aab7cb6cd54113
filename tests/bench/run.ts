// npm run bench, npm run bench -- store: one timing; each file says what it times.
const BENCHES = {
  reading: () => import('./bench.js'),
  store: () => import('./store.js'),
}

const asked = process.argv[2] ?? 'reading'
if (!(asked in BENCHES)) throw new Error(`npm run bench knows ${Object.keys(BENCHES).join(', ')}; got ${asked}`)
await BENCHES[asked as keyof typeof BENCHES]()
