-- Grain: one row per as_of, style and feature.
-- as_of: owned by result_set.
create table style (
    as_of date not null,
    style bigint not null,
    name varchar not null,
    landings bigint not null check (landings >= 0),
    share double not null check (share between 0 and 1),
    feature varchar not null,
    centre double check (isfinite(centre)),
    spread double check (isfinite(spread)),
    primary key (as_of, style, feature)
);

comment on column style.as_of is 'Last date whose landings were counted.';
comment on column style.style is 'Number of the style, in this as_of only.';
comment on column style.name is 'Words for its landings.';
comment on column style.landings is 'Landings assigned to it.';
comment on column style.share is 'Their share, 0 to 1.';
comment on column style.feature is 'Name of the measure; centre and spread have its unit and sign.';
comment on column style.centre is 'Centre of the feature in this style.';
comment on column style.spread is 'Its spread, one standard deviation.';
