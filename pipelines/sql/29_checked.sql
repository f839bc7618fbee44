-- pipelines/sql/29_checked.sql
-- records.*, landing.file -> what the checks over all records look at.
-- seen_file: what messages call each file, and its place in their order. Key: file_id. Rows: those of landing.file.
-- dated_card: the current cards with the day on which the unit left service, as 30_card takes it. Key: fleet, card; file_id, row.
--   back_on is the day it went back, null where the card says none that is possible.
-- Rows: the current cards with any date; those that a check sets aside are taken out as it does.
create or replace temp table seen_file as
select file_id, rank, path || coalesce(', sheet "' || sheet || '"', '') as file from landing.file join landing.file_order using (file_id);

create or replace temp table dated_card as
with dated as (
  select fleet, unit, card, file_id, row, position, model, reason, failed_slot, hours_removed, hours_installed, installed_on, built_on,
         coalesce(removed_on, received_on, built_on, installed_on) as out_on,
         case when removed_on is not null then 'removed_on' when received_on is not null then 'received_on'
              when built_on is not null then 'built_on' else 'installed_on' end as out_field
  from records.rebuild
)
select * exclude (installed_on, built_on),
       case when installed_on >= out_on then installed_on when built_on >= out_on then built_on end as back_on
from dated
where out_on is not null;
