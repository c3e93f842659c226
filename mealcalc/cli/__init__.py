"""The command line. Thin: every verb calls the pipeline or the library and hands the answer to `reports`."""


def main() -> None:
    """Run the command line; the entry point of the `mealcalc` command."""
    from mealcalc.cli.app import app

    app(prog_name="mealcalc")
