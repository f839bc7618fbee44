-- pipelines/sql/29_twice.sql
-- records.version, seen_file, quarantine.finding -> found: current records that an earlier row of the same file tells otherwise. Key: file_id,
-- row. Rows: one a record. Where the file dates its versions, a later date tells a later state; a card number on two units, or used again for
-- a later visit, has been found already.
insert into found
with past as (
  select record, file_id, key, revised_on, row from records.version where standing = 'superseded'
),
twice as (
  select n.record, n.file_id, n.row, max(p.row) as past_row
  from (from records.version where standing = 'current') n join past p using (record, file_id, key)
  where n.revised_on is not distinct from p.revised_on
  group by all
)
select record, file_id, row, 'row', null, 'told_twice',
       'the same ' || case record when 'rebuild' then 'card number' when 'unit' then 'unit' when 'reading' then 'unit and day' when 'retirement' then 'unit'
                                  when 'stock' then 'part, place and day' else 'part' end
       || ' stands in row ' || past_row || ' of the file too, with other values; only this row counts; '
       || case record when 'rebuild' then 'if they are two jobs, give them card numbers of their own, or set "layout: long" if each row is of one component; else take the old one out'
                      else 'take the one that is wrong out of the export' end
from twice
where not exists (
  from quarantine.finding f where f.file_id = twice.file_id and f.row = twice.row and f.rule in ('card_of_two_units', 'card_used_again'));
