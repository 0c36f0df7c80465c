"""The table of measures is consistent with itself and with what measuring gives."""

from pipeline.measures.table import BY_NAME, MEASURES, schema

UNITS = {
    "_ft": "ft",
    "_kt": "kt",
    "_fpm": "ft/min",
    "_deg": "deg",
    "_s": "s",
    "_g": "g",
    "_pct": "%",
    "_dots": "dots",
    "_dps": "deg/s",
    "_kg": "kg",
    "_hz": "Hz",
    "_ratio": "",
}


def test_names_are_unique_and_hold_their_unit():
    """A number's name holds its unit."""
    assert len(BY_NAME) == len(MEASURES)
    for measure in MEASURES:
        if measure.kind == "number":
            assert measure.unit in {UNITS.get(f"_{part}") for part in measure.name.split("_")}, measure.name


def test_every_measure_has_value_quality_and_reason_columns():
    """Three columns each, in the table's order."""
    assert list(schema()) == [c for m in MEASURES for c in (m.name, m.quality, m.reason)]
