-- Grain: one row per as_of and landing.
-- as_of: owned by result_set. landing_id: owned by approach. style: owned by style.
create table landing_style (
    as_of date not null,
    landing_id varchar not null,
    style bigint,
    probability double check (isfinite(probability) and probability >= 0),
    primary key (as_of, landing_id)
);

comment on column landing_style.as_of is 'Last date whose landings were counted.';
comment on column landing_style.landing_id is 'Landing.';
comment on column landing_style.style is 'Style it is assigned to; null where it stands between styles or is like none.';
comment on column landing_style.probability is 'Probability of that style, 0 to 1.';
