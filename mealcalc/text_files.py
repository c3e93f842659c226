"""Text files that the cook owns: where they stand, and writing them whole or not at all."""

import stat
from pathlib import Path

from mealcalc.fooddb import atomic_file


def beside(recipe: Path, kind: str) -> Path:
    """The file of a kind that stands beside a recipe file: `pots.decisions.yaml` beside `pots.batch.yaml`."""
    stem = recipe.name
    for ending in (".batch.yaml", ".batch.yml", recipe.suffix):
        if ending and stem.endswith(ending):
            stem = stem[: -len(ending)]
            break
    return recipe.with_name(f"{stem}.{kind}.yaml")


def write_whole(path: Path, text: str) -> None:
    """Write `text` to `path` in UTF-8 with LF line ends, replacing what stands there.

    A failure in the middle leaves the old file as it was. A link is followed: the file that it leads to is replaced,
    not the link. Access rights of an old file are kept.

    Parameters
    ----------
    path : Path
        The file; its folder is made if it is missing.
    text : str
        What it is to hold.

    Raises
    ------
    OSError
        If it cannot be written.
    """
    path = path.resolve()

    def fill(temporary: Path) -> None:
        with temporary.open("w", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
        if path.exists():
            temporary.chmod(stat.S_IMODE(path.stat().st_mode))

    atomic_file.write_whole(path, fill)
