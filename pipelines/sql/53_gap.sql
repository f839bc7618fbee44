-- pipelines/sql/53_gap.sql
-- studied, records.*, known_unit -> gap (a temp table): what is missing in the records and how much hangs on it. Key: gap, reason, fleet.
-- Of $fleet or all. lives, cards, rows or fleets concerned: `missing` of `of`; of the failures among them `failures` of `failures_of`, null where
-- nothing is lost to an answer about failures.
-- gap_total (a temp table): what all of them are missing of. Key: gap, fleet. Rows: one for each fleet that has any.
create or replace temp table gap_found as
with life_of as (
  select * from studied where $fleet is null or fleet = $fleet
),
total as (
  select fleet, count(*) as lives, count(*) filter (status = 'failed') as failed from life_of group by fleet
),
card_of as (
  select r.*, coalesce(removed_on, received_on, built_on, installed_on) as day, as_of
  from records.rebuild r, as_of where $fleet is null or fleet = $fleet
),
-- Rows of cards in quarantine: a row that never became a record is of the fleet that its file mostly tells of.
told_of as (
  select file_id, mode(fleet) as fleet from records.rebuild_row group by file_id
),
row_of as (
  select fleet, count(*) filter (barred) as aside, count(*) as rows from records.rebuild_row group by fleet
  union all
  select fleet, count(*), count(*) from landing.set_aside join told_of using (file_id) where outcome = 'quarantined' group by fleet
),
fleet_of as (
  select unnest(from_json($fleets, '["VARCHAR"]')) as fleet
),
found as (
  select 'left_out' as gap, left_out as reason, fleet, count(*) as missing, any_value(lives) as of,
         count(*) filter (status = 'failed') as failures, any_value(failed) as failures_of
  from life_of join total using (fleet) where left_out is not null group by left_out, fleet
  union all
  select 'no_end_play', null, fleet, count(*) filter (end_play is null), count(*),
         count(*) filter (end_play is null and status = 'failed'), count(*) filter (status = 'failed')
  from life_of where left_out is null group by fleet
  union all
  select 'no_lube', null, fleet, count(*) filter (lube is null), count(*),
         count(*) filter (lube is null and status = 'failed'), count(*) filter (status = 'failed')
  from life_of where left_out is null group by fleet
  union all
  select 'no_condition', null, fleet, count(*) filter (status = 'unknown'), count(*), null, null
  from life_of where ended_by = 'rebuild' group by fleet
  union all
  select 'assumed_running', null, fleet, count(*) filter (assumed_running), count(*), null, null
  from life_of where status = 'running' and left_out is null group by fleet
  union all
  select 'no_position', null, fleet, count(*) filter (position is null), count(*),
         count(*) filter (position is null and reason = 'failure'), count(*) filter (reason = 'failure')
  from card_of where day <= as_of group by fleet
  union all
  select 'no_reason', null, fleet, count(*) filter (reason = 'unknown'), count(*), null, null
  from card_of where day <= as_of group by fleet
  union all
  select 'no_date', null, fleet, count(*) filter (day is null), count(*),
         count(*) filter (day is null and reason = 'failure'), count(*) filter (reason = 'failure')
  from card_of group by fleet
  union all
  select 'set_aside', null, fleet, sum(aside), sum(rows), null, null
  from row_of where $fleet is null or fleet = $fleet group by fleet
  union all
  select 'no_list', null, fleet, case when fleet in (select fleet from records.unit) then 0 else 1 end, 1, null, null
  from fleet_of
  union all
  select 'undated_list', null, fleet, case when count(unit) > 0 and count(listed_on) = 0 then 1 else 0 end, 1, null, null
  from fleet_of left join records.unit using (fleet) group by fleet
  union all
  select 'no_rounds', null, fleet, case when fleet in (select fleet from records.reading) then 0 else 1 end, 1, null, null
  from fleet_of
)
select gap, reason, fleet, missing::integer as missing, of::integer as of, failures::integer as failures, failures_of::integer as failures_of
from found
union all
select 'left_out', null, fleet, 0, lives::integer, 0, failed::integer from total;

create or replace temp table gap as
select * replace (coalesce(failures, -1) as failures, coalesce(failures_of, -1) as failures_of) from gap_found where missing > 0;

create or replace temp table gap_total as
select gap, fleet, any_value(of) as of, coalesce(any_value(failures_of), -1) as failures_of from gap_found group by gap, fleet;
