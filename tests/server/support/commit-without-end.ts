import { openSqlite } from '../../../server/storage/sqlite.js'

// Adds one record after the other to the database named by its argument, and says how many are written down.
const { db } = openSqlite(process.argv[2] ?? '')
for (let i = 1; ; i++) {
  const at = '2026-01-01'
  const row = {
    record_id: String(i),
    kind: 'bottle',
    content: '{}',
    search: '',
    created_at: at,
    changed_at: at,
  } as const
  await db.insertInto('records').values(row).execute()
  console.log(`${i} written`)
}
