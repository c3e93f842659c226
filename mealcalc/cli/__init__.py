"""The command line. Thin: every verb calls the pipeline or the library and hands the answer to `reports`."""

import gc
import sys

STOPPED = 130
"""Exit status of a command that the user stopped: 128 plus the number of the interrupt signal, as shells have it."""


def main() -> None:
    """Run the command line; the entry point of the `mealcalc` command."""
    # A command is over before garbage could matter, and collecting it costs a tenth of the time of a short one.
    gc.disable()
    try:
        from mealcalc.cli.app import app
        from mealcalc.cli.streams import prepare

        prepare()
        app(prog_name="mealcalc")
    except KeyboardInterrupt:
        sys.exit(STOPPED)
    except OSError as error:
        # Whatever the commands foresee has become a message by now; what is left is a disk that is full, or gone.
        place = f"{error.filename}: " if error.filename else ""
        sys.exit(f"error: {place}{error.strerror or error}\n  hint: free some space, or write to another disk")
