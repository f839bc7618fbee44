-- pipelines/sql/35_meter.sql
-- meter_step -> meter: what is known of each unit's hour meter, on one axis that never falls.
-- Key: unit_id, moment, visit_id (null: no card's), axis. Rows: as meter_step.
--   is_last     of its moment
--   axis        tenths of an hour run since the first evidence, breaks counted as nothing
--   segment     counts the breaks before; hours between two moments are known within one segment only
--   broken_by   the latest break before
--   service     days in service and on a sound meter since the first evidence
create or replace temp table meter as
select unit_id, moment, on_day, visit_id, place, lead(moment) over unit is distinct from moment as is_last,
       (sum(case when breaks is null then step else 0 end) over unit)::bigint as axis,
       (count(breaks) over unit)::integer as segment,
       last_value(breaks ignore nulls) over unit as broken_by,
       (sum(case when breaks is null and not in_shop then coalesce(days, 0) else 0 end) over unit)::integer as service
from meter_step
window unit as (partition by unit_id order by moment, visit_id, tenths, changed rows unbounded preceding);
