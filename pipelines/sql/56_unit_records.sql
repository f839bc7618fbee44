-- pipelines/sql/56_unit_records.sql
-- records.*, landing.set_aside -> unit_record (a temp table): every record of the unit called $id, in the order of time. Key: trace.
-- Rows: one per card (all its versions together), reading, list entry and retirement, and per row set aside that has its number
-- in a cell, unless the number is so short that other cells may hold it as well.
create or replace temp table unit_record as
with card as (
  select fleet, card, arg_max(r, [standing = 'current', not barred]) as r, bool_or(standing = 'current' and not barred) as counts, bool_and(barred) as barred
  from records.rebuild_row r
  where concat_ws('/', fleet, unit) = $id group by fleet, card
)
select coalesce(r.removed_on, r.received_on, r.built_on, r.installed_on) as "on", 1 as place, 'card' as kind,
       concat_ws(', ', 'rebuild', case when r.reason is null or r.reason = 'unknown' then 'no reason given' else 'for ' || r.reason end,
                 'to ' || r.position, 'meter ' || r.hours_removed || ' h') as says,
       case when counts then 'current' when barred then 'quarantined' else 'superseded' end as standing,
       concat_ws('/', fleet, card) as trace
from card
union all
select read_on, 2, 'reading', hours || ' h' || case when meter_changed then ', first of a new meter' else '' end,
       case when barred then 'quarantined' else standing end, concat_ws(':', name, row)
from records.reading_row join source_name using (file_id) where concat_ws('/', fleet, unit) = $id
union all
select coalesce(listed_on, last_rebuilt_on, commissioned_on), 3, 'list',
       concat_ws(', ', 'commissioned ' || commissioned_on, 'last rebuilt ' || last_rebuilt_on, 'in service on ' || listed_on, 'at ' || position),
       case when barred then 'quarantined' else standing end, concat_ws(':', name, row)
from records.unit_row join source_name using (file_id) where concat_ws('/', fleet, unit) = $id
union all
select retired_on, 4, 'retirement', coalesce(cause, 'no cause given'), case when barred then 'quarantined' else standing end, concat_ws(':', name, row)
from records.retirement_row join source_name using (file_id) where concat_ws('/', fleet, unit) = $id
union all
select null, 5, 'set aside', because, outcome, concat_ws(':', name, row)
from landing.set_aside join source_name using (file_id)
where outcome = 'quarantined' and length($unit) > 2 and contains(raw, to_json($unit)::varchar);
