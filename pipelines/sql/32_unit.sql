-- pipelines/sql/32_unit.sql
-- card, records.unit, records.reading, records.retirement -> known_unit: each unit that anything is known of by the as-of date.
-- Key: unit_id (1, 2, ... by fleet and unit). Rows: one per fleet and unit named in any record dated up to it.
-- watched_on is the last evidence that comes on its own schedule: a list of units in service, a meter round. A list dated within
-- 31 days after the as-of date proves that the unit was in service on it. Of a later one only what it says of the past counts: it names
-- survivors alone, and units lost in between would look as if nothing were known of them.
create or replace temp table known_unit as
with day as (select as_of from as_of),
listed as (
  select fleet, unit,
         any_value(model order by listed_on desc nulls last, file_id desc, row desc) as model,
         any_value(site order by listed_on desc nulls last, file_id desc, row desc) as site,
         any_value(position order by listed_on desc nulls last, file_id desc, row desc) as position,
         any_value(speed_rpm order by listed_on desc nulls last, file_id desc, row desc) as speed,
         min(commissioned_on) as commissioned_on,
         max(last_rebuilt_on) filter (last_rebuilt_on <= as_of) as last_rebuilt_on,
         max(least(listed_on, as_of)) filter (listed_on <= as_of + 31) as listed_on,
         min({'file_id': file_id, 'row': row}) as source
  from records.unit, day
  where commissioned_on is null or commissioned_on <= as_of
  group by fleet, unit
),
read as (
  select fleet, unit, max(read_on) as read_on,
         max({'read_on': read_on, 'file_id': file_id, 'row': row}) as source
  from records.reading, day where read_on <= as_of group by fleet, unit
),
retired as (
  select fleet, unit, max(retired_on) as retired_on, max({'retired_on': retired_on, 'file_id': file_id, 'row': row}) as source
  from records.retirement, day where retired_on <= as_of group by fleet, unit
),
named as (
  select fleet, unit from card, day where out_on <= as_of
  union select fleet, unit from listed
  union select fleet, unit from read
  union select fleet, unit from retired
),
fleet as (
  select unnest(from_json($fleets, '[{"name": "VARCHAR", "records_begin": "DATE"}]'), recursive := true)
)
select row_number() over (order by n.fleet, n.unit)::integer as unit_id, n.fleet, n.unit,
       l.model, l.site, l.position, l.speed,
       l.commissioned_on, l.last_rebuilt_on, f.records_begin,
       l.listed_on, n.fleet in (select fleet from listed where listed_on is not null) as fleet_is_listed,
       read.read_on, greatest(l.listed_on, read.read_on) as watched_on, retired.retired_on,
       l.source as listed_source, read.source as read_source, retired.source as retired_source
from named n
left join listed l using (fleet, unit)
left join read using (fleet, unit)
left join retired using (fleet, unit)
left join fleet f on f.name = n.fleet;
