-- Grain: one row per note on an approach. Notes are never altered or taken away but with their pilot.
-- landing_id: owned by approach.
create table note (
    note_id varchar primary key,
    landing_id varchar not null,
    noted_at timestamptz not null,
    kind varchar not null check (kind in ('remark', 'dispute', 'settled')),
    note varchar not null
);

comment on column note.note_id is 'First 16 hexadecimal digits of the hash of landing, instant, kind and text.';
comment on column note.landing_id is 'Approach the note is on.';
comment on column note.noted_at is 'UTC instant it was made.';
comment on column note.kind is 'remark; dispute: this was not flown by the pilot it stands for; settled: the dispute is over.';
comment on column note.note is 'What was said.';
