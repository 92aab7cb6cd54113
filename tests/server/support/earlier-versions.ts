import { DatabaseSync } from '@photostructure/sqlite'
import { join } from 'node:path'
import { migrations } from '../../../server/storage/migrations.js'
import { madeUpReading } from './made-up-reading.js'

export const newestVersion = migrations.length
export const photoId = 'ab'.repeat(32)
const text = (value: unknown) => `'${JSON.stringify(value).replaceAll("'", "''")}'`
const at = "'2026-03-02T10:00:00.000Z'"
const { design } = madeUpReading
const outcome = { rungsRead: 2, rungsRefused: 1, design, suggestion: madeUpReading.suggestion }

/** What people had stored with each version: rows for the tables that it added. */
const rowsSince: Readonly<Record<number, string>> = {
  1: `insert into ladders (ladder_id, design, created_at) values ('${design.ladderId}', ${text(design)}, ${at});
      insert into photos values ('${photoId}', 'jpg', 'bench.jpg', 12, 0, ${at});
      insert into readings (reading_id, photo_id, options, state, attempts, created_at, finished_at, outcome, result)
        values ('r-done', '${photoId}', '{"toleranceUm":20}', 'done', 1, ${at}, ${at}, ${text(outcome)}, ${text(madeUpReading)});
      insert into readings (reading_id, photo_id, options, state, created_at)
        values ('r-waiting', '${photoId}', '{"toleranceUm":12}', 'queued', ${at});
      insert into readings (reading_id, photo_id, options, state, created_at, failure)
        values ('r-failed', '${photoId}', '{"toleranceUm":13}', 'failed', ${at}, '{"code":"x","message":"m","advice":"a"}');`,
  2: `update ladders set labels = '{"bottle":"Shelf 2"}';`,
  3: `insert into records values ('bottle-1', 'bottle', '{"name":"Shelf 2"}', 'shelf 2', ${at}, ${at}, null);
      insert into records values ('setting-1', 'setting',
        '{"exposureS":2,"layerHeightUm":50,"origin":"accepted","ladderId":"${design.ladderId}"}', '2 50', ${at}, ${at}, null);
      insert into record_versions (record_id, content, changed_at) values ('bottle-1', '{"name":"Shelf 1"}', ${at});
      update ladders set facts = '{"bottleId":"bottle-1"}', origin = 'card';
      insert into left_out (photo_id, slot, reason, created_at) values ('${photoId}', 1, 'scratched', ${at});
      insert into uploads values ('upload-of-a-phone-1', 'r-done');`,
  4: `insert into sheets values ('SHEET1', 'setting-1', '{"sheetId":"SHEET1"}', ${at});
      insert into links values ('link-1', 'hash', 'SHEET1', ${at}, ${at}, null, 3);
      insert into known_keys values ('key', 'Canal works', ${at});`,
}

/** Fills an empty folder as a version left it. */
export function folderOfVersion(folder: string, version: number): void {
  const db = new DatabaseSync(join(folder, 'stepglass.sqlite'))
  db.exec('pragma journal_mode = wal')
  migrations.slice(0, version).forEach((step, i) => db.exec(`${step}; ${rowsSince[i + 1] ?? ''}`))
  db.exec(`pragma user_version = ${version}`)
  db.close()
}
