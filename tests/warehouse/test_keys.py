"""Keys: the same content the same key, other content another."""

from datetime import UTC, datetime

import polars as pl
from hypothesis import given
from hypothesis import strategies as st

from warehouse.keys import content_key, frame_sha256, measured_key


def _row(value):
    return pl.DataFrame({"name": ["a"], "x": [value], "n": [1], "on": [True]}, schema_overrides={"x": pl.Float64})


def test_a_key_is_always_the_same():
    """A row has the key it had when it was first stored, by whatever version of the libraries."""
    frame = pl.DataFrame(
        {"name": ["a"], "x": [1.5], "n": [None], "on": [True], "at": [datetime(2026, 11, 25, tzinfo=UTC)]},
        schema_overrides={"n": pl.Int64, "at": pl.Datetime("us", "UTC")},
    )
    # sha256 of "a", floor(1.5 * 1000 + 0.271828), a null, "true" and microseconds since 1970, joined by 0x1f,
    # computed with sha256sum outside this program
    assert content_key(frame).to_list() == ["4a7906732cdc301dfbdb971e62033382"]


@given(st.floats(-1e6, 1e6), st.floats(-1e-12, 1e-12))
def test_the_last_bits_do_not_count(value, wobble):
    """A number that differs in its last bits has the same key (numbers as recorders round them: three decimals)."""
    rounded = round(value, 3)

    assert content_key(_row(rounded)).to_list() == content_key(_row(rounded * (1 + wobble))).to_list()


@given(st.floats(-1e6, 1e6), st.floats(0.0011, 100))
def test_a_thousandth_counts(value, step):
    """A number that differs by more than a thousandth of its unit has another key."""
    assert content_key(_row(value)).to_list() != content_key(_row(value + step)).to_list()


def test_null_is_not_zero_nor_nothing():
    """A null, a zero, an empty text and a text in the next column are four different rows."""
    rows = pl.DataFrame({"a": [None, "0", "", "b"], "b": [None, None, "b", ""]})

    assert content_key(rows).n_unique() == 4


def test_the_order_of_rows_does_not_count():
    """A measurement has the same key wherever it stands in the batch, and whatever the order of its contacts."""
    landings = pl.DataFrame({"landing_id": ["a", "b", "c"], "x": [1.0, 2.0, 3.0]})
    contacts = pl.DataFrame({"landing_id": ["a", "a", "c"], "contact_index": [0, 1, 0], "g": [1.2, 1.1, 1.3]})

    one = measured_key(landings, contacts, columns=["x"]).to_list()

    assert one == measured_key(landings, contacts.reverse(), columns=["x"]).to_list()
    assert one[::-1] == measured_key(landings.reverse(), contacts, columns=["x"]).to_list()
    assert one[0] != measured_key(landings, contacts[:1], columns=["x"])[0]
    assert frame_sha256([landings]) == frame_sha256([landings.reverse()])
    assert frame_sha256([landings]) != frame_sha256([landings[:2]])
