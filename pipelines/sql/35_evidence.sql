-- pipelines/sql/35_evidence.sql
-- visit, records.reading, known_unit -> meter_evidence: what each unit's hour meter showed. Key: unit_id, on_day, place, visit_id, changed.
-- Rows: the readings and the hours on cards up to the as-of date, a reading left aside where a card of the same day has hours, and 0 h at
-- commissioning, where that lies before them. place within the day: 0 commissioned, 1 taken out, 2 read, 3 put back.
--   served      its day less the days that the unit had been out of service by then
create or replace temp table meter_evidence as
with card_evidence as (
  select unit_id, out_on as on_day, out_on - idle_before as served, 1 as place, visit_id, (hours_removed * 10).round()::bigint as tenths,
         false as changed, null::bigint as old_tenths
  from visit where hours_removed is not null
  union all
  select unit_id, back_on, back_on - idle_after, 3, visit_id, (coalesce(hours_installed, hours_removed) * 10).round()::bigint,
         coalesce(hours_installed <> hours_removed, false), null
  from visit where back_on is not null and coalesce(hours_installed, hours_removed) is not null
),
reading_evidence as (
  select u.unit_id, r.read_on as on_day, max((r.hours * 10).round()::bigint) as tenths, r.meter_changed as changed,
         max((r.old_meter_hours * 10).round()::bigint) as old_tenths
  from records.reading r join known_unit u using (fleet, unit), as_of
  where r.read_on <= as_of
  group by all
),
recorded as (
  from card_evidence
  union all
  select r.unit_id, r.on_day, r.on_day - coalesce(v.idle_before + (least(v.back_on, v.next_out_on, r.on_day) - v.out_on), 0)::integer, 2, null, r.tenths, r.changed,
         r.old_tenths
  from (from reading_evidence r where changed or not exists (from card_evidence c where c.unit_id = r.unit_id and c.on_day = r.on_day)) r
  asof left join (from visit where out_on is distinct from next_out_on) v on v.unit_id = r.unit_id and v.out_on < r.on_day
)
from recorded
union all
select u.unit_id, u.commissioned_on, u.commissioned_on, 0, null, 0, false, null
from known_unit u join (select unit_id, min(on_day) as first_on from recorded group by unit_id) using (unit_id)
where u.commissioned_on <= first_on;
