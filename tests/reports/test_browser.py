"""The pages in a real browser: every chart drawn, nothing on the console, nothing wider than a phone."""

import re
from pathlib import Path

import pytest

from reports.edition import write_edition

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def pages(edition, tmp_path_factory) -> list[Path]:
    return write_edition(tmp_path_factory.mktemp("browser") / "2026-W47", edition())


@pytest.mark.parametrize("place", [0, 1, -2, -1])
def test_every_chart_is_drawn_and_the_console_is_silent(pages, in_browser, place):
    """The first page is that of a pilot whose name holds markup."""
    document, said = in_browser(pages[place])

    drawn = re.search(r'data-drawn="(\d+) of (\d+)"', document)

    assert said == ""
    assert drawn is not None
    assert drawn[1] == drawn[2]
    assert document.count("<svg") >= int(drawn[2]) > 0
