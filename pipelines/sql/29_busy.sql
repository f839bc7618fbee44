-- pipelines/sql/29_busy.sql
-- dated_card, seen_file -> busy: cards of the units $first to $last by which a unit came out before one of its earlier cards says that it
-- went back, and that card. Key: file_id, row; other.file_id, other.row. Rows: one a card; few, so that all units' are kept.
create temp table if not exists busy (unit_id integer, file_id integer, row integer, out_field varchar, out_on date,
                                      other struct(back_on date, rank integer, row integer, file_id integer));

create or replace temp table followed as
select *, max(back_on) over (partition by unit_id order by out_on groups between unbounded preceding and 1 preceding) as busy_until
from (select unit_id, file_id, row, out_field, out_on, back_on from dated_card where unit_id between $first and $last);

create or replace temp table busy_unit as
select distinct unit_id from followed where out_on < busy_until;

insert into busy
with told as (
  select unit_id, file_id, row, out_field, out_on, busy_until,
         max({back_on: back_on, rank: rank, row: row, file_id: file_id}) filter (back_on is not null)
           over (partition by unit_id order by out_on groups between unbounded preceding and 1 preceding) as other
  from followed semi join busy_unit using (unit_id) join seen_file using (file_id)
)
select * exclude (busy_until) from told where out_on < busy_until;

drop table followed;
drop table busy_unit;
