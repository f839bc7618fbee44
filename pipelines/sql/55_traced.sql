-- pipelines/sql/55_traced.sql
-- $rows -> traced (a temp table): the source rows that are traced. Key: file_id, row. Rows: those of $rows that were read.
create or replace temp table traced as
select distinct file_id, row
from (select unnest(from_json($rows, '[{"file_id": "INTEGER", "row": "INTEGER"}]'), recursive := true)) t
where exists (from records.standing s where s.file_id = t.file_id and s.row = t.row)
   or exists (from landing.set_aside a where a.file_id = t.file_id and a.row = t.row);

-- traced, records.version -> other_row (a temp table): rows of other versions of the same records. Key: file_id, row, other_file, other_row.
-- Of a card that takes several rows, those of the same export are one version. earlier: in the order of versions. same: it says the same.
create or replace temp table other_row as
with own as (
  select t.file_id, t.row, v.record, v.key, v.content, v.standing, v.revised_on, o.rank, f.layout
  from traced t join records.version v using (file_id, row) join landing.file_order o using (file_id) join landing.file f using (file_id)
),
other as (
  select v.*, rank from records.version v join landing.file_order using (file_id)
  where record in (select record from own) and key in (select key from own)
)
select own.file_id, own.row, other.file_id as other_file, other.row as other_row, other.standing as other_standing, own.content = other.content as same,
       (coalesce(other.revised_on, '-infinity'::date), other.rank, other.row) < (coalesce(own.revised_on, '-infinity'::date), own.rank, own.row) as earlier
from own join other on other.record = own.record and other.key = own.key and (other.file_id, other.row) <> (own.file_id, own.row)
where other.file_id <> own.file_id or own.layout = 'wide' or (own.content = other.content and 'duplicate' in (own.standing, other.standing));
