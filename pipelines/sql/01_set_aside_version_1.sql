-- pipelines/sql/01_set_aside_version_1.sql
-- a store of version 1 -> its tables as temp tables v1_*, and nothing else: the schema of now is made in their place. Rows: all.
create temp table v1_file as from landing.file;
create temp table v1_set_aside as from landing.set_aside;
create temp table v1_correction as from landing.correction;
create temp table v1_refusal as from quarantine.refusal;
create temp table v1_rebuild as from records.rebuild_row;
create temp table v1_fitting as from records.fitting_row;
create temp table v1_unit as from records.unit_row;
create temp table v1_reading as from records.reading_row;
create temp table v1_retirement as from records.retirement_row;
drop schema results cascade;
drop schema quarantine cascade;
drop schema records cascade;
drop schema landing cascade;
