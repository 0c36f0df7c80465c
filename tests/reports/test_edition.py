"""An edition on disk: whole or not at all, one folder an audience, no way from one to another."""

import html
import re
from pathlib import Path

import pytest

from reports.edition import folder_name, write_edition
from reports.training import training_page


@pytest.fixture(scope="module")
def written(edition, tmp_path_factory) -> tuple[Path, list[Path]]:
    folder = tmp_path_factory.mktemp("reports") / "2026-W47"
    return folder, write_edition(folder, edition())


def test_one_page_a_pilot_and_one_an_audience(written):
    """Pilots by pseudonym, then the training and the office page."""
    folder, pages = written

    names = [page.relative_to(folder).as_posix() for page in pages]

    assert len([name for name in names if name.startswith("pilots/")]) == 6
    assert names[-2:] == ["training/index.html", "office/index.html"]
    assert all(page.is_file() for page in pages)


def test_a_new_edition_takes_the_place_of_the_old_one(edition, tmp_path):
    """Pages of pilots who are no longer in it are gone, and nothing is left beside it."""
    folder = tmp_path / "2026-W47"
    write_edition(folder, edition(pilots=3, each=5))

    write_edition(folder, edition(pilots=1, each=5))

    assert len(list((folder / "pilots").iterdir())) == 1
    assert [path.name for path in tmp_path.iterdir()] == ["2026-W47"]


def test_no_page_leads_to_the_network_or_to_another_audience(written):
    """No link or source but within the page itself; the content policy forbids everything else."""
    for page in written[1]:
        text = re.sub(r"<script type=\"module\">.*?</script>", "", page.read_text(), flags=re.DOTALL)

        assert set(re.findall(r"(?:href|src)=\"([^\"]*)\"", text)) <= {"#main", "data:,"}
        assert "http" not in text.replace("http-equiv", "")
        assert "default-src 'none'" in html.unescape(text)
        assert "unsafe-eval" not in text


def test_pages_are_small_enough_to_send(written):
    """One copy of the chart library and aggregated charts: under 1.8 MB a page."""
    assert max(page.stat().st_size for page in written[1]) < 1_800_000


@pytest.mark.parametrize("name", ["../up", "a/b", ".hidden", "P-7F3K2", "ä ö"])
def test_a_folder_name_stays_in_its_folder(name):
    """No separator and no leading dot survives."""
    safe = folder_name(name)

    assert "/" not in safe
    assert not safe.startswith(".")


def test_the_same_data_gives_the_same_pages(edition):
    """Nothing of the clock or of chance is in a page."""
    data = edition()

    assert training_page(data, data.flown()) == training_page(data, data.flown())
