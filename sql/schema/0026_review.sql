-- Grain: one row per as_of, pilot and measure: the newest review, every 50 landings.
-- as_of: owned by result_set. Intervals hold at all reviews of a pilot together.
create table review (
    as_of date not null,
    pilot varchar not null,
    measure varchar not null,
    review bigint check (review >= 2),
    landings bigint check (landings >= 0),
    reviewed_at timestamptz,
    change double check (isfinite(change)),
    change_low double check (isfinite(change_low)),
    change_high double check (isfinite(change_high)),
    said varchar not null check (said in ('better', 'worse', 'narrower', 'wider', 'cannot tell yet')),
    landings_needed bigint check (landings_needed >= 0),
    primary key (as_of, pilot, measure)
);

comment on column review.as_of is 'Last date whose landings were counted.';
comment on column review.pilot is 'Pseudonym.';
comment on column review.measure is 'in_target_box, or the measure.';
comment on column review.review is 'Number of the review; null before the first, at 100 landings.';
comment on column review.landings is 'Landings reviewed.';
comment on column review.reviewed_at is 'UTC instant of the last of them.';
comment on column review.change is 'From the first to the last landing: of the share in parts of 1, of a spread as a factor less 1.';
comment on column review.change_low is 'Lower end of its interval.';
comment on column review.change_high is 'Upper end of its interval.';
comment on column review.said is 'What the review says.';
comment on column review.landings_needed is 'Landings that would show a change of 0.15, or of a spread by a half.';
