-- pipelines/sql/11_file_gone.sql
-- landing.file -> the same without file $file_id, of which nothing is left. Key: file_id. Rows: one less.
delete from landing.file where file_id = $file_id;

update landing.checked set made_with = null;
