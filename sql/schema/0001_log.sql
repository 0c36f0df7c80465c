-- Grain: one row per accepted log.
-- log_sha256: hash of the log's decompressed bytes, so that a log and its compressed copy are one.
-- No table here declares foreign keys: a parent row could then not be corrected in place. checks/ finds orphans instead.
create table log (
    log_sha256 varchar primary key,
    log_file varchar not null,
    original_name varchar not null,
    map_sha256 varchar not null,
    map_name varchar not null,
    rows bigint not null check (rows >= 0),
    duration_s double not null check (isfinite(duration_s) and duration_s >= 0),
    started_at timestamptz,
    channels varchar[] not null,
    notes varchar[] not null,
    landings bigint not null check (landings >= 0),
    ingested_at timestamptz not null
);

comment on column log.log_sha256 is 'Hash of the decompressed bytes.';
comment on column log.log_file is 'Name under which the manifest and the exports know the log.';
comment on column log.original_name is 'File name it came with.';
comment on column log.map_sha256 is 'Hash of the channel map it was read with.';
comment on column log.map_name is 'Name of that channel map.';
comment on column log.rows is 'Rows of the log, its header not counted.';
comment on column log.duration_s is 'From the first to the last row. Unit: s.';
comment on column log.started_at is 'UTC instant of the first row; null where nothing tells it.';
comment on column log.channels is 'Canonical channels it holds.';
comment on column log.notes is 'What was repaired or set aside while reading.';
comment on column log.landings is 'Landings with main-wheel contact found in it.';
comment on column log.ingested_at is 'UTC instant at which it was first loaded.';
