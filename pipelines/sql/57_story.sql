-- pipelines/sql/57_story.sql
-- build, visit, card, life, installation -> story (a temp table): how the life or installation $id began and ended. Key: id. Rows: one, or none.
-- start_*, stop_* : the day, card and source row of both ends; meter_* what the card shows of the meter there. told_*: what the card that ended a
-- life says of its slot. entry, low: in the workspace's clock, as in life. readings: meter rounds in between, changed: of a new meter.
create or replace temp table story as
with asked as (
  select id, fleet, unit, build_number, slot, stop_on, status, ended_by, assumed_running, hours, days, hours_estimated, left_out_hours, left_out_days,
         entry_hours, low_hours, part, batch, damage_mode, start_file, start_row, stop_file, stop_row
  from life where id = $id
  union all by name
  select id, fleet, unit, build_number, stop_on, ends as status, ends as ended_by, assumed_running, hours, days, hours_estimated,
         left_out_hours, left_out_days, start_file, start_row, stop_file, stop_row
  from installation where id = $id
)
select a.*, b.card as start_card, b.start_on, b.start_marked, b.early, b.records_begin, b.ends as followed, b.position,
       s.hours_installed as meter_installed, s.hours_removed as meter_before,
       c.card as stop_card, v.hours_removed as meter_removed, v.reason, v.failed_slot = a.slot as told_named,
       f.condition as told_condition, coalesce(f.fitted, false) as told_fitted, r.readings, r.changed
from asked a
join build b using (fleet, unit, build_number)
left join visit s on s.visit_id = b.visit_id and b.visit_id > 0
left join visit v on v.unit_id = b.unit_id and v.file_id = a.stop_file and v.row = a.stop_row
left join card c on c.rowid = v.card_id
left join (
  select fleet, card, slot, any_value(condition order by row) as condition, bool_or(fitted) as fitted from records.fitting group by all
) f on f.fleet = a.fleet and f.card = c.card and f.slot = a.slot
left join (
  select fleet, unit, list(read_on) as days, list(case when meter_changed then read_on end) as changes from records.reading group by all
) d on d.fleet = a.fleet and d.unit = a.unit
left join lateral (
  select len(list_filter(d.days, lambda x: x between b.start_on and a.stop_on))::integer as readings,
         len(list_filter(d.changes, lambda x: x between b.start_on and a.stop_on))::integer as changed
) r on true;
