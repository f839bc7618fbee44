-- pipelines/sql/19_clear.sql
-- The views and temp tables of one file -> nothing, so that the next begins with none and their memory is free. Run before and after a file.
drop view if exists source;
drop view if exists staged;
drop table if exists doubt;
drop table if exists column_doubt;
drop table if exists forgotten;
drop table if exists incoming;
drop table if exists stored;
drop table if exists contested;
drop table if exists contested_row;
drop table if exists verdict;
