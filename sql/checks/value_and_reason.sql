-- Offends: a measure that has both a value and a reason for having none, or neither.
-- Any column of measurement that ends in _reason is a reason; the measure is the column without that ending.
with present as (
    select
        landing_id,
        columns(* exclude (
            landing_id, definition, constants, policy_sha256, map_sha256, runways_sha256, measured_key
        )) is not null
    from staged_measurement
),

-- columns stand in the same order in both lists, so that whole rows compare at once; few are left to take apart
listed as (
    select
        *,
        list_value(*columns(lambda name: not regexp_matches(name, '_(reason|u|confidence)$|^landing_id$'))) as has_values,
        list_value(*columns(lambda name: regexp_matches(name, '_reason$'))) as has_reasons
    from present
),

suspect as (
    select * exclude (has_values, has_reasons)
    from listed
    where has_values <> list_transform(has_reasons, lambda given: not given)
),

cell as (
    unpivot suspect on columns(* exclude (landing_id)) into name column_name value present
),

measure as (
    select
        landing_id,
        regexp_replace(column_name, '_(reason|u|confidence)$', '') as measure,
        bool_or(present) filter (not regexp_matches(column_name, '_(reason|u|confidence)$')) as has_value,
        bool_or(present) filter (regexp_matches(column_name, '_reason$')) as has_reason
    from cell
    group by all
)

select landing_id, measure, has_value, has_reason
from measure
where has_value = has_reason
