-- pipelines/sql/41_observed_hours.sql
-- installation -> observed (a view): the stretches of service between rebuilds as the questions read them, in hours.
-- Key: fleet, unit, build_number. Rows: those of installation. Only lengths count: start is 0 and stop the length, from where the stretch
-- came under observation. `whole`: it was watched from its own start on, so that its length is a time between rebuilds. Two rebuilds on one day
-- leave a stretch of no length, whose end is a rebuild all the same. `left_out`: why a stretch can't be used, or null. `seen_stop`: of a
-- stretch that is only assumed to run on, its length up to the last evidence of any kind.
create or replace temp view observed as
select * exclude (id),
       0::double as start,
       case when left_out_hours = 'zero_or_negative_length' then 0
            when start_days < entry_days then stop_hours - entry_hours
            else hours end::double as stop,
       left_out_hours is null and start_days >= entry_days as whole,
       case when left_out_hours = 'zero_or_negative_length' then null
            when left_out_hours = 'start_unknown' and stop_hours > entry_hours then null
            else left_out_hours end as left_out,
       0::double as entered,
       entry_hours as age_entered,
       concat_ws(' ', fleet, unit) as entity,
       case when position is not null then concat_ws(' ', fleet, position) end as place,
       case when assumed_running then greatest(coalesce(last_seen_hours - greatest(start_hours, entry_hours), 0), 0) end::double as seen_stop,
       start_on as ordinal
from installation;
