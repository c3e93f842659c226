"""The shopping page in a real browser: ticks are kept, it fits a phone, no violation of accessibility.

Needs Chromium; for accessibility the file that the variable MEALCALC_AXE names, `axe.min.js` of axe-core. Skips, with
that reason, where either is not at hand.
"""

import os
import shutil
from pathlib import Path

import pytest

from tests.cli.test_shop import HOSTILE
from tests.command import EXAMPLES, mealcalc, write
from tests.reports.test_pages_in_browser import RESULT, shown

# A headless window is not narrower than 500 px, a frame is.
_WIDTH = f"document.body.setAttribute('{RESULT}', JSON.stringify(document.getElementById('phone').contentWindow.wide))"
_TICK = f"""
var boxes = document.querySelectorAll("input[data-id]");
if (location.hash !== "#again") {{
  boxes[0].click(); boxes[2].click(); location.hash = "#again"; location.reload();
}} else {{
  var ticked = Array.prototype.map.call(boxes, function (box) {{ return box.checked; }});
  var said = document.getElementById("count").textContent;
  document.getElementById("untick").click();
  document.body.setAttribute("{RESULT}", JSON.stringify({{
    ticked: ticked, said: said, then: document.getElementById("count").textContent,
    pictures: document.querySelectorAll("img, iframe, a").length
  }}));
}}"""
_AXE = f"axe.run().then(found => document.body.setAttribute('{RESULT}', JSON.stringify(found.violations)))"


@pytest.fixture(scope="module")
def browser() -> str:
    """The browser."""
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    if found is None:
        pytest.skip("chromium is not at hand")
    return found


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory, data_folder: Path) -> Path:  # noqa: ARG001
    """The page for an example and a batch full of markup, with prices."""
    folder = tmp_path_factory.mktemp("shop")
    hostile = write(folder, "bad.batch.yaml", HOSTILE)
    prices = EXAMPLES / "demo-prices.csv"
    answer = mealcalc("shop", EXAMPLES / "smoky-bean-turkey.batch.yaml", hostile, "--prices", prices, "--html")
    return write(folder, "shop.html", answer.out)


def test_ticks_are_kept_when_the_page_is_opened_again(browser: str, page: Path, tmp_path: Path) -> None:
    found = shown(browser, page, f"<script>{_TICK}</script>", 500, tmp_path)
    ticked = found["ticked"]
    assert [n for n, one in enumerate(ticked) if one] == [0, 2]
    assert found["said"] == f"{len(ticked) - 2} of {len(ticked)} to buy"
    assert found["then"] == f"{len(ticked)} of {len(ticked)} to buy"
    assert found["pictures"] == 0  # markup of the recipe made nothing


def test_the_page_fits_a_phone(browser: str, page: Path, tmp_path: Path) -> None:
    wide = "<script>window.wide = document.documentElement.scrollWidth;</script></body>"
    (page.parent / "inner.html").write_text(page.read_text(encoding="utf-8").replace("</body>", wide), encoding="utf-8")
    frame = '<body><iframe id="phone" src="inner.html" style="width:360px;height:2000px;border:0"></iframe></body>'
    outer = write(page.parent, "outer.html", frame)
    script = f"<script>document.getElementById('phone').onload = function () {{ {_WIDTH} }};</script>"
    assert shown(browser, outer, script, 500, tmp_path) <= 360


def test_no_violation_of_accessibility(browser: str, page: Path, tmp_path: Path) -> None:
    axe = os.environ.get("MEALCALC_AXE")
    if not axe:
        pytest.skip("MEALCALC_AXE is not set: axe.min.js of axe-core is not at hand")
    scripts = f"<script>{Path(axe).read_text(encoding='utf-8')}</script><script>{_AXE}</script>"
    violations = shown(browser, page, scripts, 500, tmp_path)
    assert [(v["id"], [node["html"] for node in v["nodes"]]) for v in violations] == []
