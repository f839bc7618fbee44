-- pipelines/sql/52_completeness.sql
-- records.* -> completeness (a temp table): how many records have each field. Key: record, fleet, month, field; up to $as_of, of $fleet or all.
-- month: first day of the month of a card, a list, a retirement or a count; null where it has no date. Of stock, parts and bearings fleet is null.
-- place: of the field in the record. records: those that could have the field (of failures alone the slot that failed; of fleets that keep it what shims are reckoned from; of cards that fitted something its parts).
create or replace temp table completeness as
with kept as (
  -- Parts, batches and conditions are asked of the slots of which a fleet ever records them.
  select fleet, slot, bool_or(part is not null) as keeps_parts, bool_or(batch is not null) as keeps_batches,
         bool_or(condition is not null or damage_mode is not null) as keeps_conditions
  from records.fitting where fitted group by fleet, slot
),
keeping as (
  select *, bool_or(keeps_parts) over (partition by fleet) as any_parts, bool_or(keeps_batches) over (partition by fleet) as any_batches,
         bool_or(keeps_conditions) over (partition by fleet) as any_conditions
  from kept
),
fitted as (
  select fleet, card,
         coalesce(bool_and(part is not null) filter (keeps_parts), bool_or(any_parts)) as has_parts,
         coalesce(bool_and(batch is not null) filter (keeps_batches), bool_or(any_batches)) as has_batches,
         coalesce(bool_and(condition is not null or damage_mode is not null) filter (keeps_conditions), bool_or(any_conditions)) as has_conditions
  from records.fitting join keeping using (fleet, slot) where fitted group by fleet, card
),
told as (
  select r.*, f.* exclude (fleet, card), f.card is not null as fits,
         coalesce(removed_on, received_on, built_on, installed_on) as day,
         -- What shims are reckoned from comes in two ways, and is asked of the fleets that ever record it.
         bool_or(race_depth_mm is not null or spigot_height_mm is not null) over by_fleet as keeps_depths,
         bool_or(end_play_unshimmed_mm is not null) over by_fleet as keeps_unshimmed
  from records.rebuild r left join fitted f using (fleet, card)
  where $fleet is null or r.fleet = $fleet window by_fleet as (partition by r.fleet)
),
counted as (
  select 'rebuild' as record, fleet, date_trunc('month', day)::date as month, [
           {field: 'position', records: count(*), have: count(position)},
           {field: 'site', records: count(*), have: count(site)},
           {field: 'model', records: count(*), have: count(model)},
           {field: 'removed_on', records: count(*), have: count(removed_on)},
           {field: 'received_on', records: count(*), have: count(received_on)},
           {field: 'built_on', records: count(*), have: count(built_on)},
           {field: 'installed_on', records: count(*), have: count(installed_on)},
           {field: 'hours_removed', records: count(*), have: count(hours_removed)},
           {field: 'hours_installed', records: count(*), have: count(hours_installed)},
           {field: 'reason', records: count(*), have: count(*) filter (reason <> 'unknown')},
           {field: 'failed_slot', records: count(*) filter (reason = 'failure'), have: count(failed_slot) filter (reason = 'failure')},
           {field: 'lube', records: count(*), have: count(lube)},
           {field: 'seal_arrangement', records: count(*), have: count(seal_arrangement)},
           {field: 'end_play', records: count(*), have: count(end_play_mm)},
           {field: 'end_play_found', records: count(*), have: count(end_play_found_mm)},
           {field: 'shims', records: count(*), have: count(shims_mm)},
           {field: 'race_depth', records: count(*) filter (keeps_depths), have: count(race_depth_mm)},
           {field: 'spigot_height', records: count(*) filter (keeps_depths), have: count(spigot_height_mm)},
           {field: 'end_play_unshimmed', records: count(*) filter (keeps_unshimmed), have: count(end_play_unshimmed_mm)},
           {field: 'ring_temperature', records: count(*), have: count(ring_temperature_c)},
           {field: 'speed', records: count(*), have: count(speed_rpm)},
           {field: 'fitter', records: count(*), have: count(fitter)},
           {field: 'condition_found', records: count(*) filter (fits), have: count(*) filter (has_conditions)},
           {field: 'parts_fitted', records: count(*) filter (fits), have: count(*) filter (has_parts)},
           {field: 'batches_fitted', records: count(*) filter (fits), have: count(*) filter (has_batches)}
         ] as told
  from told where day is null or $as_of is null or day <= $as_of::date group by all
  union all
  select 'unit', fleet, date_trunc('month', listed_on)::date, [
           {field: 'model', records: count(*), have: count(model)},
           {field: 'site', records: count(*), have: count(site)},
           {field: 'position', records: count(*), have: count(position)},
           {field: 'speed', records: count(*), have: count(speed_rpm)},
           {field: 'commissioned_on', records: count(*), have: count(commissioned_on)},
           {field: 'last_rebuilt_on', records: count(*), have: count(last_rebuilt_on)},
           {field: 'listed_on', records: count(*), have: count(listed_on)}
         ]
  from records.unit where $fleet is null or fleet = $fleet group by all
  union all
  select 'retirement', fleet, date_trunc('month', retired_on)::date, [
           {field: 'cause', records: count(*), have: count(cause)}
         ]
  from records.retirement where $fleet is null or fleet = $fleet group by all
  union all
  select 'reading', fleet, date_trunc('month', read_on)::date, [
           {field: 'old_meter_hours', records: count(*) filter (meter_changed), have: count(old_meter_hours) filter (meter_changed)}
         ]
  from records.reading where $fleet is null or fleet = $fleet group by all
  union all
  select 'stock', null, date_trunc('month', counted_on)::date, [
           {field: 'place', records: count(*), have: count(place)},
           {field: 'counted_on', records: count(*), have: count(counted_on)},
           {field: 'on_order', records: count(*), have: count(on_order)},
           {field: 'due_on', records: count(*) filter (on_order > 0), have: count(due_on) filter (on_order > 0)}
         ]
  from records.stock group by all
  union all
  select 'part', null, null, [
           {field: 'title', records: count(*), have: count(title)},
           {field: 'slot', records: count(*), have: count(slot)},
           {field: 'price', records: count(*), have: count(price)},
           {field: 'lead_time', records: count(*), have: count(lead_time_days)},
           {field: 'pack_size', records: count(*), have: count(pack_size)},
           {field: 'minimum_order', records: count(*), have: count(minimum_order)}
         ]
  from records.part group by all
  union all
  select 'bearing', null, null, [
           {field: 'kind', records: count(*), have: count(kind)},
           {field: 'bore', records: count(*), have: count(bore_mm)},
           {field: 'outside_diameter', records: count(*), have: count(outside_diameter_mm)},
           {field: 'width', records: count(*), have: count(width_mm)},
           {field: 'dynamic_rating', records: count(*), have: count(dynamic_rating_kn)},
           {field: 'static_rating', records: count(*), have: count(static_rating_kn)},
           {field: 'fatigue_limit', records: count(*), have: count(fatigue_limit_kn)},
           {field: 'contact_angle', records: count(*), have: count(contact_angle_deg)}
         ]
  from records.bearing group by all
)
select record, fleet, month, t.field, place::integer as place, t.records::integer as records, t.have::integer as have
from (select record, fleet, month, unnest(told) as t, generate_subscripts(told, 1) as place from counted) where t.records > 0;
