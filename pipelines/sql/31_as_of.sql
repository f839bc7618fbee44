-- pipelines/sql/31_as_of.sql
-- card, records.unit, records.reading, records.retirement -> as_of: the day up to which events are looked at.
-- $as_of, else the latest date in the records, which stands beside it as latest_on. Rows: one; null where the store holds no dated record.
create or replace temp table as_of as
with latest as (
  select greatest(
           (select max(greatest(out_on, back_on)) from card),
           (select max(greatest(commissioned_on, last_rebuilt_on, listed_on)) from records.unit),
           (select max(read_on) from records.reading),
           (select max(retired_on) from records.retirement)
         ) as day
)
select case when day is not null then coalesce($as_of::date, day) end as as_of, day as latest_on from latest;
