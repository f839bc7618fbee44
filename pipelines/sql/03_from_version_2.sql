-- pipelines/sql/03_from_version_2.sql
-- a store of version 2 -> the tables of version 3: what shims are reckoned from, blank on all cards so far. Files need no reading anew until
-- their mapping names it. In a new store the columns stand elsewhere: rows are put in by name.
alter table records.rebuild_row add column race_depth_mm double;
alter table records.rebuild_row add column spigot_height_mm double;
alter table records.rebuild_row add column end_play_unshimmed_mm double;
update landing.version set schema_version = 3;
