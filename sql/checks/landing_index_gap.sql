-- Offends: a log whose landings measured now are not numbered 0, 1, 2 and so on.
select
    log_sha256,
    count(landing_index) as landings,
    count(distinct landing_index) as numbers,
    max(landing_index) as last_number
from approaches
group by log_sha256
having
    count(landing_index) <> count(distinct landing_index)
    or max(landing_index) <> count(landing_index) - 1
