"""The pages in a real browser: every chart drawn, nothing on the console, nothing wider than a phone."""

import json
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


def test_a_foot_is_a_foot_both_ways_on_the_runway(pages, in_browser):
    """The drawn pavement has the proportions of the runway, read from the browser's own shapes."""
    document, _ = in_browser(pages[1])
    spec = next(s for s in re.findall(r'<script type="application/json" id="runway-\d+">(.*?)</script>', document))
    row = next(part for part in json.loads(spec)["datasets"]["surface"] if part["kind"] == "pavement")

    shape = re.search(r'd="M[^h"]*h([\d.]+)v(-?[\d.]+)h[^"]*"[^>]*fill="var\(--pavement\)"', document)

    assert shape is not None
    feet = (row["x2"] - row["x"]) / (row["hi"] - row["lo"])
    assert float(shape[1]) / abs(float(shape[2])) == pytest.approx(feet, rel=0.01)


PROBE = "<script>setTimeout(()=>parent.postMessage(document.documentElement.scrollWidth,'*'),3000)</script>"
FRAME = """<iframe src="copy.html" style="width:390px;height:4000px;border:0"></iframe>
<script>onmessage = (event) => { document.documentElement.dataset.wide = event.data; }</script>"""


@pytest.mark.parametrize("place", [1, -2, -1])
def test_nothing_is_wider_than_a_phone(pages, in_browser, place, tmp_path):
    """In a frame of 390 pixels no page scrolls sideways; the probe runs in a copy without the content policy."""
    text = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", pages[place].read_text())
    (tmp_path / "copy.html").write_text(text.replace("</body>", f"{PROBE}</body>"))
    frame = tmp_path / "frame.html"
    frame.write_text(FRAME)

    document, _ = in_browser(frame)
    found = re.search(r'data-wide="(\d+)"', document)

    assert found is not None
    assert int(found[1]) <= 390
