"""Files of the cook are written whole or not at all."""

import stat
from pathlib import Path

import pytest

from mealcalc.text_files import beside, write_whole


def test_a_file_and_its_folder_are_made(tmp_path: Path) -> None:
    path = tmp_path / "kitchen" / "pots.yaml"
    write_whole(path, "big pot: 980 g\nsmall: ½ kg\n")
    assert path.read_bytes() == "big pot: 980 g\nsmall: ½ kg\n".encode()
    assert [found.name for found in path.parent.iterdir()] == ["pots.yaml"]


def test_a_failure_leaves_the_old_file_and_nothing_beside_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "pots.yaml"
    path.write_text("old", encoding="utf-8")

    def fail(_: Path, __: Path) -> None:
        raise OSError("the disk is gone")

    monkeypatch.setattr(Path, "replace", fail)
    with pytest.raises(OSError, match="the disk is gone"):
        write_whole(path, "new")
    assert path.read_text(encoding="utf-8") == "old"
    assert [found.name for found in tmp_path.iterdir()] == ["pots.yaml"]


def test_what_cannot_be_encoded_leaves_the_old_file(tmp_path: Path) -> None:
    path = tmp_path / "pots.yaml"
    path.write_text("old", encoding="utf-8")
    with pytest.raises(UnicodeEncodeError):
        write_whole(path, "half a pair: \ud800")
    assert [found.read_text(encoding="utf-8") for found in tmp_path.iterdir()] == ["old"]


def test_rights_are_kept_and_links_followed(tmp_path: Path) -> None:
    path = tmp_path / "shared.yaml"
    path.write_text("old", encoding="utf-8")
    path.chmod(0o640)
    link = tmp_path / "link.yaml"
    link.symlink_to(path)
    write_whole(link, "new")
    assert link.is_symlink()
    assert path.read_text(encoding="utf-8") == "new"
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


@pytest.mark.parametrize(
    ("recipe", "expected"),
    [
        ("pots.batch.yaml", "pots.cooked.yaml"),
        ("pots.batch.yml", "pots.cooked.yaml"),
        ("pots.txt", "pots.cooked.yaml"),
        ("pots", "pots.cooked.yaml"),
        ("kitchen/v1.2.batch.yaml", "kitchen/v1.2.cooked.yaml"),
    ],
)
def test_beside_a_recipe(recipe: str, expected: str) -> None:
    assert beside(Path(recipe), "cooked") == Path(expected)
