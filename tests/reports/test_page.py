"""One page, self-contained: scripts by hash, data that cannot become markup."""

import base64
import hashlib
import itertools
import json
import re

import pytest

from reports.charts.look import as_json
from reports.office import office_page


@pytest.fixture(scope="module")
def page(edition) -> str:
    data = edition(pilots=2, each=5)
    return office_page(data, data.flown())


def test_only_the_scripts_in_the_page_may_run(page):
    """The hashes of the policy are those of the two module scripts, computed from the page itself."""
    scripts = re.findall(r'<script type="module">(.*?)</script>', page, flags=re.DOTALL)
    hashes = {base64.b64encode(hashlib.sha256(text.encode()).digest()).decode() for text in scripts}
    allowed = set(re.findall(r"sha256-([A-Za-z0-9+/=]+)", page.split("</head>")[0].replace("&#39;", "'")))

    assert len(scripts) == 2
    assert allowed == hashes
    assert "script-src 'unsafe-inline'" not in page.replace("&#39;", "'")


def test_chart_data_cannot_end_their_script():
    """No "<" leaves the JSON as it is, and it reads back the same."""
    spec = {"name": "</script><img src=x onerror=alert(1)>", "more": "a\u2028b"}

    text = as_json(spec)

    assert "<" not in text
    assert json.loads(text) == spec


def test_a_page_says_its_language_title_and_headings_in_order(page):
    """What a screen reader goes by."""
    levels = [int(level) for level in re.findall(r"<h([1-6])", page)]

    assert '<html lang="en">' in page
    assert "<title>Office page, 2026-W47</title>" in page
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in itertools.pairwise(levels))


def test_every_table_cell_has_its_heading(page):
    """Columns and rows are scoped, so that a narrow or spoken table still makes sense."""
    page = re.sub(r"<script.*?</script>", "", page, flags=re.DOTALL)

    assert page.count("<table") == page.count("<caption>") > 0
    assert not re.search(r"<th(?![^>]*scope=)[ >]", page)
    assert not re.search(r"<td(?![^>]*data-label=)[ >]", page)
