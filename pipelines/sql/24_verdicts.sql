-- pipelines/sql/24_verdicts.sql
-- incoming, stored, forgotten -> temp table verdict: which rows say the same again, and which version of a record is the current one.
-- Key: file_id, row. Rows: those of incoming and stored whose record has several rows, or lost one; all others stand as they are.
-- A version (in the order of files, then rows) that equals the one before it is a duplicate; of the others the last is current.
create or replace temp table contested as
select key from (select key from incoming union all select key from stored) group by key having count(*) > 1
union select key from forgotten;

-- repeated: the same row stands earlier in the same version (a long export lists it twice).
create or replace temp table contested_row as
select *, row > min(row) over (partition by key, file_id, version, content) as repeated,
       min(row) over (partition by key, file_id, version, content) as first_row
from (
  select $file_id::integer as file_id, row, key, content, version, false as superseded from incoming
  union all by name
  select file_id, row, key, content, version, superseded from stored
) semi join contested using (key);

create or replace temp table verdict as
with version as (
  select key, file_id, version, min(row) as row, bit_xor(content) as content -- the same rows in another order are the same version
  from contested_row where not repeated group by key, file_id, version
),
compared as (
  select *, file_id = $file_id and coalesce(content = lag(content) over earlier_first, false) as same
  from version window earlier_first as (partition by key order by file_id, version)
),
judged as (
  select key, file_id, version, same,
         last_value(case when not same then {file_id: file_id, row: row} end ignore nulls) over up_to_here as original,
         last_value(case when not same then {file_id: file_id, row: row} end ignore nulls) over all_of_it as standing,
         last_value(case when not same then {file_id: file_id, version: version} end ignore nulls) over all_of_it as last
  from compared
  window up_to_here as (partition by key order by file_id, version rows between unbounded preceding and current row),
         all_of_it as (partition by key order by file_id, version rows between unbounded preceding and unbounded following)
)
select r.file_id, r.row, r.superseded as was_superseded,
       same or repeated as duplicate,
       case when repeated then {file_id: r.file_id, row: r.first_row} else original end as original,
       {file_id: r.file_id, version: r.version} <> last as superseded,
       standing
from contested_row r join judged using (key, file_id, version);
