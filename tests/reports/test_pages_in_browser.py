"""The pages in a real browser: no violation of accessibility, nothing wider than a phone, nothing run.

Needs Chromium (`chromium` on the path) and, for accessibility, the file that the variable MEALCALC_AXE names: the
`axe.min.js` of the package axe-core. Skips, with that reason, where either is not at hand.
"""

import html
import json
import os
import re
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from tests.cli.test_panel import HOSTILE
from tests.command import EXAMPLES, mealcalc, write

PAGES = ("card.html", "panel-us.html", "panel-anz.html", "label-eu.html")
WIDTHS = (360, 1280)
RESULT = "data-result"

_WIDTH = f"document.body.setAttribute('{RESULT}', JSON.stringify({{page: document.documentElement.scrollWidth}}))"
_AXE = f"axe.run().then(found => document.body.setAttribute('{RESULT}', JSON.stringify(found.violations)))"


@pytest.fixture(scope="module")
def chromium() -> str:
    """The browser."""
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    if found is None:
        pytest.skip("chromium is not at hand")
    return found


@pytest.fixture(scope="module")
def axe() -> Path:
    """The accessibility rules."""
    path = os.environ.get("MEALCALC_AXE")
    if not path:
        pytest.skip("MEALCALC_AXE is not set: axe.min.js of axe-core is not at hand")
    return Path(path)


@pytest.fixture(scope="module", params=["example", "hostile"])
def folder(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory, data_folder: Path) -> Path:  # noqa: ARG001
    """Pages of an example and of a batch full of markup."""
    folder = tmp_path_factory.mktemp(request.param)
    recipe = EXAMPLES / "smoky-bean-turkey.batch.yaml"
    if request.param == "hostile":
        recipe = write(folder, "pots.batch.yaml", HOSTILE)
    mealcalc("publish", recipe, "--scheme", "all", "--out", folder)
    return folder


def shown(chromium: str, page: Path, scripts: str, width: int, profile: Path) -> Any:
    """What scripts found out about a page: they leave it as JSON in an attribute of the body."""
    copy = page.with_name(f"looked-at-{page.name}")
    copy.write_text(page.read_text(encoding="utf-8").replace("</body>", f"{scripts}</body>"), encoding="utf-8")
    done = subprocess.run(
        [
            chromium, "--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking",
            "--allow-file-access-from-files", f"--user-data-dir={profile}", f"--window-size={width},2000",
            "--virtual-time-budget=20000", "--dump-dom", copy.as_uri(),
        ],
        capture_output=True,
        check=True,
    )  # fmt: skip
    found = re.search(rf'{RESULT}="([^"]*)"', done.stdout.decode("utf-8"))
    assert found is not None, "the scripts did not end"
    return json.loads(html.unescape(found[1]))


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", PAGES)
def test_no_violation_of_accessibility(
    chromium: str, axe: Path, folder: Path, name: str, width: int, tmp_path: Path
) -> None:
    scripts = f'<script src="{axe.as_uri()}"></script><script>{_AXE}</script>'
    violations = shown(chromium, folder / name, scripts, width, tmp_path)
    assert [(v["id"], [node["html"] for node in v["nodes"]]) for v in violations] == []


@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_not_wider_than_a_phone(chromium: str, folder: Path, name: str, tmp_path: Path) -> None:
    found = shown(chromium, folder / name, f"<script>{_WIDTH}</script>", 500, tmp_path)
    assert found["page"] <= 500
