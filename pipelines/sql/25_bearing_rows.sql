-- pipelines/sql/25_bearing_rows.sql
-- source, verdict -> records.bearing_row; key file_id, row; $file_id. Rows: those of source that are data and not refused whole.
insert into records.bearing_row
select $file_id, row, part, kind, bore_mm, outside_diameter_mm, width_mm, dynamic_rating_kn, static_rating_kn, fatigue_limit_kn, contact_angle_deg,
       content, coalesce(v.standing, 'current'), false
from source left join (from verdict where file_id = $file_id) v using (row)
where not_data is null and not fatal;
