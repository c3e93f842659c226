"""Every notebook runs from top to bottom, by the public names of mealcalc alone, and draws its plots."""

import json
from pathlib import Path

import pytest

from mealcalc.fooddb import FoodDatabase
from tests.command import ROOT, process_environment

NEEDED = "notebooks need nbclient and ipykernel: pip install mealcalc[dev]"
NOTEBOOKS = sorted((ROOT / "notebooks").glob("*.ipynb"))


def sources(path: Path) -> list[str]:
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    return ["".join(cell["source"]) for cell in cells if cell["cell_type"] == "code"]


def test_there_are_three_notebooks_without_stored_outputs() -> None:
    assert len(NOTEBOOKS) == 3
    for path in NOTEBOOKS:
        cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
        stored = [c for c in cells if c.get("outputs") or c.get("execution_count")]
        assert not stored, f"{path.name}: clear the outputs before committing"


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_a_notebook_needs_the_public_names_alone(path: Path) -> None:
    lines = [line.strip() for source in sources(path) for line in source.splitlines()]
    assert {line for line in lines if line.startswith(("import ", "from "))} == {"import mealcalc"}


# The kernel's own libraries warn about themselves; what our code warns about fails elsewhere.
@pytest.mark.filterwarnings("ignore")
@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_a_notebook_runs_and_draws(
    path: Path,
    database: FoodDatabase,  # noqa: ARG001 - built before the kernel starts
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    nbclient = pytest.importorskip("nbclient", reason=NEEDED)
    pytest.importorskip("ipykernel", reason=NEEDED)
    import nbformat

    monkeypatch.setenv("PYTHONPATH", process_environment()["PYTHONPATH"])
    notebook = nbformat.reads(path.read_text(encoding="utf-8"), as_version=4)  # type: ignore[no-untyped-call]
    client = nbclient.NotebookClient(
        notebook, timeout=300, kernel_name="python3", resources={"metadata": {"path": str(path.parent)}}
    )
    client.execute()
    outputs = [output for cell in notebook.cells for output in cell.get("outputs", [])]
    pictures = [output for output in outputs if "image/png" in output.get("data", {})]
    assert pictures
    assert all(output["metadata"]["image/png"]["alt"] for output in pictures)
    assert not any(output["output_type"] == "error" for output in outputs)
