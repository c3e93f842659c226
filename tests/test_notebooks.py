"""Every notebook runs from top to bottom and draws its plots."""

from pathlib import Path

import pytest

NEEDED = "notebooks need nbclient and ipykernel: pip install mealcalc[dev]"
NOTEBOOKS = sorted((Path(__file__).parent.parent / "notebooks").glob("*.ipynb"))


def test_there_are_three_notebooks_without_stored_outputs() -> None:
    assert len(NOTEBOOKS) == 3
    for path in NOTEBOOKS:
        assert '"image/png"' not in path.read_text(encoding="utf-8"), (
            f"{path.name}: clear the outputs before committing"
        )


# The kernel's own libraries warn about themselves; what our code warns about fails elsewhere.
@pytest.mark.filterwarnings("ignore")
@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_a_notebook_runs_and_draws(path: Path) -> None:
    nbclient = pytest.importorskip("nbclient", reason=NEEDED)
    nbformat = pytest.importorskip("nbformat", reason=NEEDED)
    pytest.importorskip("ipykernel", reason=NEEDED)
    notebook = nbformat.reads(path.read_text(encoding="utf-8"), as_version=4)
    client = nbclient.NotebookClient(
        notebook, timeout=300, kernel_name="python3", resources={"metadata": {"path": str(path.parent)}}
    )
    client.execute()
    outputs = [output for cell in notebook.cells for output in cell.get("outputs", [])]
    assert any("image/png" in output.get("data", {}) for output in outputs)
    assert not any(output["output_type"] == "error" for output in outputs)
