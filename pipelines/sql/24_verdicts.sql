-- pipelines/sql/24_verdicts.sql
-- incoming, records.version, forgotten -> temp table verdict: where the rows of a $record stand of which there are several versions, or
-- of which one has gone. Key: file_id, row. Rows: those of incoming and of other files with such a record; all others stand as they are.
-- Versions come in the order of the day they were revised on, where they say it, then of their files (landing.file_order), then rows. One
-- that says what the one before it says is a duplicate; of the others the last is current.
create or replace temp table stored as
select v.file_id, row, key, content, standing, revised_on, case when layout = 'wide' then row else 0 end as version
from records.version v join landing.file using (file_id)
where v.record = $record and v.file_id <> $file_id;

create or replace temp table contested as
select key from (select key from incoming union all select key from stored) group by key having count(*) > 1
union select key from forgotten where record = $record;

-- repeated: the same row stands earlier in the same version (a long export lists it twice).
create or replace temp table contested_row as
select r.* exclude (standing), standing as was, rank, row > min(row) over (partition by key, file_id, version, content) as repeated
from (
  select *, null::varchar as standing from incoming
  union all by name
  select * from stored
) r semi join contested using (key) join landing.file_order using (file_id);

create or replace temp table verdict as
with version as (
  -- The same rows in another order are the same version.
  select key, file_id, version, rank, max(revised_on) as revised_on, bit_xor(content) as content
  from contested_row where not repeated group by all
),
compared as (
  select *, coalesce(content = lag(content) over earlier_first, false) as same
  from version window earlier_first as (partition by key order by revised_on nulls first, rank, version)
),
judged as (
  select key, file_id, version, same,
         last_value(case when not same then {file_id: file_id, version: version} end ignore nulls) over all_of_it as last
  from compared
  window all_of_it as (partition by key order by revised_on nulls first, rank, version rows between unbounded preceding and unbounded following)
)
select r.file_id, r.row, was,
       case when same or repeated then 'duplicate' when {file_id: r.file_id, version: r.version} = last then 'current' else 'superseded' end as standing
from contested_row r join judged using (key, file_id, version);
