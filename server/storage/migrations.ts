/**
 * What each version of the database adds to the one before; SQLite's `user_version` counts the steps taken.
 * A step that has been released is never edited: a change is a further step.
 */
export const migrations: readonly string[] = [
  `create table ladders (
     ladder_id text primary key,
     design text not null,
     created_at text not null
   ) strict;
   create table photos (
     photo_id text primary key,
     extension text not null,
     name text not null,
     bytes integer not null,
     simulated integer not null,
     created_at text not null
   ) strict;
   create table readings (
     number integer primary key autoincrement,
     reading_id text not null unique,
     photo_id text not null references photos,
     options text not null,
     state text not null check (state in ('queued', 'reading', 'done', 'failed')),
     attempts integer not null default 0,
     created_at text not null,
     finished_at text,
     outcome text,
     result text,
     failure text,
     unique (photo_id, options)
   ) strict;
   create index readings_to_do on readings (number) where state in ('queued', 'reading');`,
  `alter table ladders add column labels text not null default '{}';`,
]
