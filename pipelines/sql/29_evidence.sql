-- pipelines/sql/29_evidence.sql
-- dated_card, dated_reading, records.unit, same_day_card -> meter_evidence: what the hour meters of the units $first to $last showed, as
-- 35_evidence has it for the lives, with the rows that say so. Key: unit_id, on_day, place, visit_id, changed. Rows: all readings and hours on
-- cards, a reading left aside where a card of the same day has hours, and 0 h at commissioning, where that lies before them. Days in service
-- (served) are not asked of these.
create or replace temp table meter_evidence as
with visit as (
  -- Told apart within the unit, and in the order of the lives' own numbers.
  select unit_id, ((out_on - date '1900-01-01')::bigint << 32) + coalesce(nth_of_day, 0) as visit_id, out_on,
         coalesce(back_on, out_on) as back_on, hours_removed, hours_installed, file_id, row
  from (from dated_card where unit_id between $first and $last) left join same_day_card using (file_id, row)
)
select unit_id, case place when 1 then out_on else back_on end as on_day, place, visit_id,
       (case place when 1 then hours_removed else coalesce(hours_installed, hours_removed) end * 10).round()::bigint as tenths,
       place = 3 and coalesce(hours_installed <> hours_removed, false) as changed, null::bigint as old_tenths, null::date as served, file_id, row
from visit cross join (select unnest([1, 3]) as place)
where tenths is not null;

insert into meter_evidence
select unit_id, read_on, 2, null, (hours * 10).round()::bigint, meter_changed, (old_meter_hours * 10).round()::bigint, null, r.file_id, r.row
from dated_reading r
where unit_id between $first and $last
  and (meter_changed or not exists (from meter_evidence c where c.unit_id = r.unit_id and c.on_day = r.read_on));

insert into meter_evidence
select unit_id, commissioned_on, 0, null, 0, false, null, null, u.file_id, u.row
from records.unit u join checked_unit using (fleet, unit) join (select unit_id, min(on_day) as first_on from meter_evidence group by unit_id) using (unit_id)
where commissioned_on <= first_on;
