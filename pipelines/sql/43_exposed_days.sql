-- pipelines/sql/43_exposed_days.sql
-- installation -> exposed (a view): when each build of a frame was at risk of coming back, by its age since the rebuild, in days.
-- Key: fleet, unit, build_number. Rows: those of installation. At risk from age_entry (above 0 where it came under observation late) to age_stop;
-- ends: failure, planned, unknown, end. left_out: why a build can't be used, or null. trace: what "framelife trace" takes.
create or replace temp view exposed as
select * exclude (id),
       id as trace,
       case when start_days < entry_days then entry_days - start_days else 0 end::double as age_entry,
       days::double as age_stop,
       coalesce(left_out_days, case when start_days < entry_days and (entry_days - start_days) is null then 'entry_unknown'
                                      when age_entry >= days then 'zero_or_negative_length' end) as left_out
from installation;
