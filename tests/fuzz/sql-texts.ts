import fc from "fast-check";

/** Files of our own outside the workspace, and what stands in them: neither may come to light. */
export type Outside = { file: string; folder: string };

const COLUMNS = [
  "fleet",
  "unit",
  "slot",
  "status",
  "hours",
  "end_play",
  "lube",
  "built_on",
  "position",
  "nothing",
  '"unit"',
  "life.unit",
];
const FUNCTIONS = [
  "lower",
  "length",
  "abs",
  "sum",
  "count",
  "coalesce",
  "max",
  "year",
  "current_setting",
  "getenv",
  "getvariable",
  "regexp_matches",
  "list",
  "unnest",
  "error",
  "hash",
];

const literal = fc.oneof(
  fc.integer({ min: -1000, max: 1000 }).map(String),
  fc.double({ noNaN: true }).map(String),
  fc.string({ maxLength: 8 }).map((text) => `'${text.replaceAll("'", "''")}'`),
  fc.constantFrom(
    "null",
    "true",
    "date '2020-01-01'",
    "$1",
    "?",
    "$$x$$",
    "e'\\x00'",
    "'",
    '"',
    "[1, 2]",
    "{'a': 1}",
    "interval 1 day",
  ),
);

/** Expressions as people write them, and as they do not. */
const expression = fc.letrec<{ e: string }>((tie) => ({
  e: fc.oneof(
    { maxDepth: 4, depthSize: "small" },
    literal,
    fc.constantFrom(...COLUMNS),
    fc
      .tuple(
        tie("e"),
        fc.constantFrom(
          "=",
          "<",
          ">=",
          "and",
          "or",
          "+",
          "||",
          "like",
          "in",
          "is",
          "~",
          "->",
          "::",
          ";",
          ",",
          ")",
          "(",
          "--",
          "/*",
        ),
        tie("e"),
      )
      .map((parts) => parts.join(" ")),
    fc.tuple(fc.constantFrom(...FUNCTIONS), tie("e")).map(([name, inner]) => `${name}(${inner})`),
    tie("e").map((inner) => `(${inner})`),
    tie("e").map((inner) => `case when ${inner} then 1 end`),
    tie("e").map((inner) => `exists (select ${inner} from life)`),
    tie("e").map((inner) => `x -> ${inner}`),
  ),
})).e;

/** Ways out of the database, into its settings, or to write: each must be refused, or do nothing of that kind. */
function escapes({ file, folder }: Outside): string[] {
  return [
    `select * from read_csv('${file}')`,
    `select * from read_text('${file}')`,
    `select * from read_blob('${file}')`,
    `select * from read_json('${file}')`,
    `select * from read_parquet('${file}')`,
    `select * from parquet_metadata('${file}')`,
    `select * from sniff_csv('${file}')`,
    `select * from glob('${folder}/*')`,
    `from '${file}'`,
    `select * from "${file}"`,
    `select * from query('from ''${file}''')`,
    `select * from query_table('${file}')`,
    `copy (select 1) to '${folder}/out.csv'`,
    `copy life to '${folder}/out.parquet' (format parquet)`,
    `copy life from '${file}'`,
    `export database '${folder}/db'`,
    `import database '${folder}'`,
    `attach '${folder}/other.duckdb'`,
    `attach '${folder}/other.duckdb' as other (read_write)`,
    "attach ':memory:' as other",
    "detach framelife",
    "install httpfs",
    "load httpfs",
    `load '${folder}/x.duckdb_extension'`,
    "install sqlite from community",
    "update extensions",
    "set enable_external_access = true",
    "set lock_configuration = false",
    "reset lock_configuration",
    "set threads = 1",
    "set memory_limit = '1GB'",
    `set temp_directory = '${folder}'`,
    `set home_directory = '${folder}'`,
    `set secret_directory = '${folder}'`,
    `set extension_directory = '${folder}'`,
    "set autoload_known_extensions = true",
    "set search_path = 'records'",
    "set schema = 'records'",
    "set TimeZone = 'Asia/Tokyo'",
    "use records",
    "pragma enable_profiling",
    `pragma profiling_output='${folder}/profile.json'`,
    `set profiling_output = '${folder}/profile.json'`,
    `pragma log_query_path='${folder}/log.txt'`,
    `set log_query_path = '${folder}/log.txt'`,
    "set enable_logging = true",
    `call enable_logging(storage = 'file', storage_path = '${folder}/logs')`,
    `call enable_logging('QueryLog', storage = 'file', storage_config = {'path': '${folder}/logs'})`,
    "call disable_logging()",
    "select write_log('x')",
    "call pragma_database_size()",
    "pragma database_list",
    "pragma version",
    "select * from duckdb_settings()",
    "select current_setting('access_mode')",
    "select getenv('FRAMELIFE_FUZZ_SECRET')",
    "select * from duckdb_secrets()",
    "create secret s (type s3, key_id 'a', secret 'b')",
    "create persistent secret s (type http, bearer_token 'b')",
    "create table records.x as select 1",
    "create table main.x as select 1",
    "create or replace view records.rebuild as select 1",
    "create temp table x as select 1",
    "create macro m() as 1",
    "create type t as enum ('a')",
    "create schema s",
    "create sequence s",
    "insert into landing.file select * from landing.file",
    "update landing.file set path = 'x'",
    "delete from landing.file",
    "truncate landing.file",
    "drop table landing.file",
    "drop schema records cascade",
    "alter table landing.file rename to gone",
    "comment on table landing.file is 'x'",
    "vacuum",
    "analyze",
    "checkpoint",
    "force checkpoint",
    "begin",
    "commit",
    "rollback",
    "explain analyze select 1",
    "explain select * from life",
    `explain analyze copy (select 1) to '${folder}/out.csv'`,
    `prepare p as copy (select 1) to '${folder}/out.csv'`,
    "execute p",
    "deallocate p",
    "set variable x = 1",
    "show tables",
    "describe landing.file",
    "summarize landing.file",
    "pivot life on status using count(*)",
    "with recursive r(n) as (select 1 union all select n + 1 from r where n < 50) select max(n) from r",
    `with x as (copy (select 1) to '${folder}/out.csv') select 1`,
    "select * from life; select 1",
    "select 1; delete from landing.file",
    "values (1)",
    "from life",
    "table life",
    "select * from pragma_storage_info('landing.file')",
    "select * from duckdb_functions()",
    "select * from test_all_types()",
    "select * from pg_catalog.pg_class",
    "select error('x')",
    "select nextval('s')",
    "select txid_current()",
    "call add_parquet_key('a', '0123456789112345')",
    "select * from which_secret('s3://a', 's3')",
    'select 1 as "a\u001b[2J"',
    "select '\u001b]0;x\u0007'",
  ];
}

/** Conditions that hold or not: numbers and texts with what is like them. */
const plain = fc.oneof(
  fc
    .tuple(
      fc.constantFrom("hours", "end_play", "days"),
      fc.constantFrom("<", ">=", "=", "<>"),
      fc.integer({ min: -10, max: 9000 }),
    )
    .map((parts) => parts.join(" ")),
  fc
    .tuple(
      fc.constantFrom("unit", "slot", "lube", "fleet", "position"),
      fc.constantFrom("=", "like", "<>", "is not distinct from"),
      fc.constantFrom("'F1'", "'%a%'", "null", "'drive_end_bearings'", "'saltmere'"),
    )
    .map((parts) => parts.join(" ")),
  fc.constantFrom(
    "true",
    "built_on >= date '2018-01-01'",
    "unit in (select unit from life)",
    "end_play between 2 and 4",
    "not (hours > 3)",
  ),
);
const joined = fc.tuple(plain, fc.constantFrom("and", "or", "and not"), plain).map((parts) => parts.join(" "));

/** A condition for `--where`. */
export const conditions = (outside: Outside): fc.Arbitrary<string> =>
  fc.oneof(
    { weight: 3, arbitrary: joined },
    { weight: 3, arbitrary: expression },
    {
      weight: 2,
      arbitrary: fc
        .tuple(expression, fc.constantFrom(...escapes(outside)))
        .map(([left, right]) => `${left} = (${right})`),
    },
    {
      weight: 1,
      arbitrary: fc
        .tuple(expression, fc.constantFrom(...escapes(outside)))
        .map(([left, right]) => `${left}); ${right}; --`),
    },
    { weight: 1, arbitrary: fc.string({ maxLength: 60, unit: "grapheme" }) },
    {
      weight: 1,
      arbitrary: fc.constantFrom(
        "1=1) union select 1 --",
        "true order by 1",
        "true limit 0",
        "true group by unit",
        "1 = 0) or (fleet = 'x'",
        "(".repeat(3000),
        `${"not ".repeat(2000)}true`,
        "unit in (select unit from life)",
        "unit in (select sql from duckdb_views())",
      ),
    },
  );

/** A statement for `query`. */
export const statements = (outside: Outside): fc.Arbitrary<string> =>
  fc.oneof(
    { weight: 5, arbitrary: fc.constantFrom(...escapes(outside)) },
    {
      weight: 3,
      arbitrary: fc.tuple(expression, expression).map(([what, where]) => `select ${what} from life where ${where}`),
    },
    {
      weight: 1,
      arbitrary: fc
        .tuple(fc.constantFrom(...escapes(outside)), fc.constantFrom(...escapes(outside)))
        .map(([one, other]) => `${one}; ${other}`),
    },
    {
      weight: 1,
      arbitrary: fc
        .tuple(
          fc.constantFrom(
            "explain ",
            "explain analyze ",
            "/**/",
            "--\n",
            "prepare p as ",
            "(",
            "with a as (select 1) ",
            "create temp table t as ",
            "from (",
          ),
          fc.constantFrom(...escapes(outside)),
          fc.constantFrom("", ")", " limit 1", ";", ";;", " union all select 1"),
        )
        .map((parts) => parts.join("")),
    },
    { weight: 1, arbitrary: fc.string({ maxLength: 80, unit: "grapheme" }) },
  );
