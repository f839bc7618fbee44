-- pipelines/sql/56_part_records.sql
-- records.* -> part_record (a temp table): every record of the part called $id, in the order of time. Key: trace, kind. Rows: one per row of a list
-- of parts or bearings, per count of stock, and per card on which it was fitted.
-- 98 and not 98.0
create or replace temp macro bare(number) as regexp_replace(number::varchar, '\.0$', '');

create or replace temp table part_record as
with card as (
  select fleet, card, string_agg(distinct slot, ' and ' order by slot) as slots, bool_or(standing = 'current' and not barred) as counts, bool_and(barred) as barred
  from records.fitting_row where part = $id group by fleet, card
)
select null::date as "on", 1 as place, 'list' as kind,
       concat_ws(', ', coalesce(title, 'no title'), 'goes to ' || slot, 'price ' || bare(price) || coalesce(' ' || currency, ''),
                 'lead time ' || bare(lead_time_days) || ' d', 'replaced by ' || replaced_by) as says,
       case when barred then 'quarantined' else standing end as standing, concat_ws(':', name, row) as trace
from records.part_row join source_name using (file_id) where part = $id
union all
select null, 1, 'list', concat_ws(', ', 'bearing', kind, 'bore ' || bare(bore_mm) || ' mm', 'C ' || bare(dynamic_rating_kn) || ' kN'),
       case when barred then 'quarantined' else standing end, concat_ws(':', name, row)
from records.bearing_row join source_name using (file_id) where part = $id
union all
select counted_on, 2, 'count',
       concat_ws(', ', bare(on_hand) || ' on hand', bare(on_order) || ' on order' || coalesce(' due ' || due_on, ''), 'at ' || s.place),
       case when barred then 'quarantined' else standing end, concat_ws(':', name, row)
from records.stock_row s join source_name using (file_id) where part = $id
union all
select coalesce(r.built_on, r.installed_on, r.received_on, r.removed_on), 3, 'card', concat_ws(', ', 'fitted at ' || c.slots, 'to ' || r.unit),
       case when c.counts then 'current' when c.barred then 'quarantined' else 'superseded' end, concat_ws('/', c.fleet, c.card)
from card c
left join (
  select fleet, card, arg_max(r, [standing = 'current', not barred]) as r from records.rebuild_row r semi join card using (fleet, card) group by fleet, card
) using (fleet, card);
