-- pipelines/sql/43_exposed_slot_days.sql
-- life -> exposed (a view): when each component of a slot was at risk of failing, by its age since it was fitted, in days; in the columns of
-- 43_exposed_days. Key: life_id. Rows: those of life. A component that came out unfailed ends as planned; one of which nothing is said, as unknown.
create or replace temp view exposed as
select * exclude (id),
       id as trace,
       coalesce(entry_days, 0)::double as age_entry,
       days::double as age_stop,
       case when ended_by <> 'rebuild' then 'end' when status = 'failed' then 'failure' when status = 'suspended' then 'planned'
            else 'unknown' end as ends,
       left_out_days as left_out
from life;
