-- Grain: one row per refused log and name; a row goes when a log of that hash is accepted.
-- log_sha256: hash of the bytes as they came, where they cannot be decompressed. Two empty files share one hash, so the
-- name is part of the key.
create table refusal (
    log_sha256 varchar not null,
    log_file varchar not null,
    reason varchar not null,
    refused_at timestamptz not null,
    primary key (log_sha256, log_file)
);

comment on column refusal.log_sha256 is 'Hash of the bytes as they came.';
comment on column refusal.log_file is 'File name it came with.';
comment on column refusal.reason is 'What was found, what was needed, how to mend it.';
comment on column refusal.refused_at is 'UTC instant of the first refusal for this reason.';
