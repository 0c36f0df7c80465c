-- Offends: a log whose approaches measured now are not numbered 0, 1, 2 and so on.
select
    log_sha256,
    count(*) as approaches,
    count(distinct approach_index) as numbers,
    max(approach_index) as last_number
from approaches
group by log_sha256
having
    count(*) <> count(distinct approach_index)
    or max(approach_index) <> count(*) - 1
