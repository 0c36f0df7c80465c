"""Finding the SQL in a checkout and in an installed wheel."""

from warehouse import sql_files


def test_the_checkout_has_its_sql_beside_the_package():
    """In a checkout all four folders are found, each with statements."""
    assert sql_files.folder().name == "sql"
    for kind in ("schema", "staging", "marts", "checks"):
        assert sql_files.statements(kind)


def test_an_installed_package_carries_its_own(tmp_path, monkeypatch):
    """SQL inside the package, as a wheel has it, is taken before SQL beside it."""
    package = tmp_path / "warehouse"
    (tmp_path / "sql").mkdir()
    (package / "sql").mkdir(parents=True)
    monkeypatch.setattr(sql_files, "_HERE", package)

    assert sql_files.folder() == package / "sql"
