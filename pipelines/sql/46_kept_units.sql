-- pipelines/sql/46_kept_units.sql
-- results.known_unit -> known_unit (a temp table): as if it had been derived now. Key and rows: as there.
create or replace temp table known_unit as from results.known_unit;
