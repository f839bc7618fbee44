-- pipelines/sql/43_exposed_slot_hours.sql
-- life -> exposed (a view): when each component of a slot was at risk of failing, by its age since it was fitted, in hours; in the columns of
-- 43_exposed_hours. Key: life_id. Rows: those of life. A component that came out unfailed ends as planned; one of which nothing is said, as unknown.
create or replace temp view exposed as
select * exclude (id),
       id as trace,
       coalesce(entry_hours, 0)::double as age_entry,
       hours::double as age_stop,
       case when ended_by <> 'rebuild' then 'end' when status = 'failed' then 'failure' when status = 'suspended' then 'planned'
            else 'unknown' end as ends,
       left_out_hours as left_out
from life;
