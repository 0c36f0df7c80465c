"""What the pages say: plain sentences with n, cautions everywhere, nobody's numbers on the training page."""

import re
from datetime import timedelta

import polars as pl
import pytest

from reports.office import office_page
from reports.pilot import pilot_page
from reports.training import training_page


def text_of(page: str) -> str:
    """Words of a page, without scripts, styles and tags."""
    body = re.sub(r"<(script|style).*?</\1>", " ", page, flags=re.DOTALL)
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", body)).replace("\xa0", " ")


CAUTIONS = ("training limits", "maintenance manual", "flight manual", "licensed instructor", "local rules", "operator")


@pytest.fixture(scope="module")
def pages(edition) -> dict[str, str]:
    data = edition()
    flown = data.flown()
    return {
        "pilot": pilot_page(data, flown, "P-00001"),
        "training": training_page(data, flown),
        "office": office_page(data, flown),
    }


@pytest.mark.parametrize("name", ["pilot", "training", "office"])
def test_cautions_stand_on_every_page(pages, name):
    """Training limits, never an airworthiness decision; procedures, manuals and instructors come first."""
    text = text_of(pages[name])

    assert all(word in text for word in CAUTIONS)
    assert "softer one is not a better one" in text


def test_a_week_like_any_other_says_so_with_n_and_interval(edition):
    """Nothing that differs is a good page."""
    data = edition()
    flown = data.flown()
    week = pl.col("flown").dt.date() > data.as_of - timedelta(days=7)
    middle = {"vertical_speed_at_contact_fpm": -160.0, "touchdown_distance_ft": 1250.0}
    calm = flown.with_columns(pl.when(week).then(v).otherwise(pl.col(name)).alias(name) for name, v in middle.items())

    text = text_of(pilot_page(data, calm, "P-00001"))

    assert "Nothing this week that differs from your usual." in text
    assert re.search(r"\(90 % interval .\d+ to .\d+, n = 45\)", text)


def test_a_single_landing_is_a_page_that_cannot_tell_yet(edition, nasty):
    """Nothing is called usual from one landing."""
    data = edition(pilots=1, each=1)

    text = text_of(pilot_page(data, data.flown(), nasty))

    assert "Too few landings yet" in text


def test_no_landings_at_all_still_makes_the_pages(edition):
    """An empty warehouse gives a training and an office page."""
    data = edition(pilots=0)

    assert "All pilots together" in training_page(data, data.flown())
    assert "What came in" in office_page(data, data.flown())


def test_the_training_page_names_nobody(pages):
    """No pseudonym, and it says that a roster could still tell."""
    text = text_of(pages["training"])

    assert not re.search(r"P-0000\d", pages["training"])
    assert "pseudonymous, not anonymous" in text


def test_small_groups_are_withheld_from_the_training_page(edition):
    """Four pilots are too few to be shown as a group."""
    data = edition(pilots=4, each=10)

    text = text_of(training_page(data, data.flown()))

    assert "60 %" not in text
    assert "withheld" in text or "too few" in text.lower()


def test_the_office_page_shows_refusals_and_no_pilots_performance(pages):
    """What was refused and why; nobody's landings."""
    text = text_of(pages["office"])

    assert "the file is empty; export it again" in text
    assert not re.search(r"P-0000\d", pages["office"])


def test_the_office_page_names_suspect_channels_and_why(edition, pages):
    """Each suspect log with its channels by their titles and the reason; a page without any says that."""
    why = "radio_height_ft reads 0.30 of what vertical speed says: metres read as feet?; pitch_deg moves by 0.1 deg in all"
    logs = pl.DataFrame({"log_file": ["a.csv"], "suspect_why": [why]})
    data = edition(suspect_logs=logs)

    text = text_of(office_page(data, data.flown()))

    assert "1 log with a channel that contradicts the others" in text
    assert "Radio height reads 0.30 of what vertical speed says: metres read as feet?; Pitch moves by 0.1 deg" in text
    assert "No log has a channel that contradicts the others." in text_of(pages["office"])


def test_markup_in_names_is_inert(edition, nasty):
    """A pilot or log name that holds markup is printed as its letters."""
    data = edition()
    for page in (pilot_page(data, data.flown(), nasty), office_page(data, data.flown())):
        own = re.sub(r"<script type=.module.>.*?</script>", "", page, flags=re.DOTALL)

        assert "<img" not in own
        assert "&lt;img" in own


def test_a_null_measure_is_printed_with_its_reason(pages):
    """Never a blank, a zero or a guess."""
    assert "not shown: the log has no channel for it" in text_of(pages["pilot"])


def test_both_ends_of_a_band_are_shown_and_none_is_praised(pages):
    """No word ranks landings by the softest touch."""
    text = text_of(pages["pilot"]).lower()

    assert "nine in ten of your landings lie between" in text
    assert not re.search(r"\b(best|smoothest|great|excellent|well done|score|rank)\b", text)
