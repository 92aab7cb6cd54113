/**
 * What each version of an SQLite database adds to the one before; its `user_version` counts the steps taken.
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
  `create table records (
     record_id text primary key,
     kind text not null,
     content text not null,
     search text not null,
     created_at text not null,
     changed_at text not null,
     archived_at text
   ) strict;
   create index records_by_kind on records (kind, created_at);
   create index settings_by_ladder on records (content ->> '$.ladderId') where kind = 'setting';
   create table record_versions (
     number integer primary key autoincrement,
     record_id text not null references records,
     content text not null,
     archived_at text,
     changed_at text not null
   ) strict;
   create index versions_by_record on record_versions (record_id);
   alter table ladders add column facts text not null default '{}';
   alter table ladders add column origin text not null default 'planned';
   alter table ladders add column archived_at text;
   create index ladders_by_age on ladders (created_at);
   alter table readings add column result_schema text;
   alter table readings add column ladder_id text generated always as (outcome ->> '$.design.ladderId') virtual;
   create index readings_by_ladder on readings (ladder_id);
   create table left_out (
     number integer primary key autoincrement,
     photo_id text not null references photos,
     slot integer not null,
     reason text not null,
     created_at text not null,
     lifted_at text
   ) strict;
   create index left_out_by_photo on left_out (photo_id);
   create table uploads (
     upload_id text primary key,
     reading_id text not null
   ) strict;`,
  `create table sheets (
     sheet_id text primary key,
     setting_id text not null references records,
     content text not null,
     created_at text not null
   ) strict;
   create index sheets_by_setting on sheets (setting_id, created_at);
   create table links (
     link_id text primary key,
     token_hash text not null unique,
     sheet_id text not null references sheets,
     created_at text not null,
     expires_at text not null,
     revoked_at text,
     views integer not null default 0
   ) strict;
   create index links_by_sheet on links (sheet_id);
   create table known_keys (
     public_key text primary key,
     name text not null,
     created_at text not null
   ) strict;`,
  `create index simulated_photos on photos (photo_id) where simulated = 1;`,
  `create index ladders_by_bottle on ladders (facts ->> '$.bottleId');
   create index ladders_by_printer on ladders (facts ->> '$.printerId');
   create view ladder_words as
     select ladder_id, concat_ws(' ', ladder_id, (select group_concat(value, ' ') from json_each(labels)), facts ->> '$.note',
       bottle.content ->> '$.name', printer.content ->> '$.name') as words
     from ladders
     left join records as bottle on bottle.record_id = facts ->> '$.bottleId'
     left join records as printer on printer.record_id = facts ->> '$.printerId';
   create virtual table ladder_search using fts5 (ladder_id unindexed, words, tokenize = 'trigram');
   insert into ladder_search select ladder_id, words from ladder_words;
   create trigger search_added_ladder after insert on ladders begin
     insert into ladder_search select ladder_id, words from ladder_words where ladder_id = new.ladder_id;
   end;
   create trigger search_changed_ladder after update of labels, facts on ladders begin
     update ladder_search set words = (select words from ladder_words where ladder_id = new.ladder_id)
     where ladder_id = new.ladder_id;
   end;
   create view ladders_of_record as
     select facts ->> '$.bottleId' as record_id, ladder_id from ladders
     union all select facts ->> '$.printerId', ladder_id from ladders;
   create trigger search_added_record after insert on records
   when exists (select 1 from ladders_of_record where record_id = new.record_id || '') begin
     update ladder_search
     set words = (select words from ladder_words where ladder_words.ladder_id = ladder_search.ladder_id)
     where ladder_id in (select ladder_id from ladders_of_record where record_id = new.record_id || '');
   end;
   create trigger search_renamed_record after update of content on records
   when new.content ->> '$.name' is not old.content ->> '$.name' begin
     update ladder_search
     set words = (select words from ladder_words where ladder_words.ladder_id = ladder_search.ladder_id)
     where ladder_id in (select ladder_id from ladders_of_record where record_id = new.record_id || '');
   end;`,
  `drop index settings_by_ladder;
   create index settings_by_ladder on records (content ->> 'ladderId') where kind = 'setting';`,
]
