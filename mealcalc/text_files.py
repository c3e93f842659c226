"""Text files that the cook owns: written whole or not at all."""

import secrets
import stat
from pathlib import Path


def write_whole(path: Path, text: str) -> None:
    """Write `text` to `path` in UTF-8 with LF line ends, replacing what stands there.

    It is written beside its place and moved there, so that a failure in the middle leaves the old file as it was. A
    link is followed: the file that it leads to is replaced, not the link. Access rights of an old file are kept.

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
    path.parent.mkdir(parents=True, exist_ok=True)
    temporary = path.with_name(f".{path.name}.{secrets.token_hex(4)}")
    try:
        with temporary.open("x", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
        if path.exists():
            temporary.chmod(stat.S_IMODE(path.stat().st_mode))
        temporary.replace(path)
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise
