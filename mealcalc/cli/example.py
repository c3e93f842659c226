"""`mealcalc example`: an example batch to edit."""

from pathlib import Path

import click

from mealcalc.cli.streams import tell
from mealcalc.errors import UsageError


@click.command("example")
@click.argument("name", required=False)
@click.option("--list", "only_list", is_flag=True, help="List the examples.")
@click.option("--output", "-o", metavar="PATH", help="Where to write; - prints. Default: NAME.batch.yaml here.")
@click.option("--force", is_flag=True, help="Overwrite a file that exists.")
def command(name: str | None, only_list: bool, output: str | None, force: bool) -> None:
    """Write an example batch (invented) to start from; without NAME, list the examples."""
    from mealcalc.examples import examples, read_example

    known = examples()
    if only_list or name is None:
        for example in known:
            click.echo(f"{example.name:24} {example.title} (region {example.region})")
        if name is None and not only_list:
            tell("\nwrite one with `mealcalc example NAME`")
        return
    if name not in {example.name for example in known}:
        raise UsageError(f"no example '{name}'", f"there are: {', '.join(example.name for example in known)}")
    text = read_example(name)
    if output == "-":
        click.echo(text, nl=False)
        return
    path = Path(output or f"{name}.batch.yaml")
    try:
        # 'x' refuses a file that exists in the same step that creates it.
        with path.open("w" if force else "x", encoding="utf-8") as stream:
            stream.write(text)
    except FileExistsError as error:
        raise UsageError(f"{path} exists already", "choose another --output, or --force to overwrite it") from error
    except OSError as error:
        raise UsageError(f"{path}: {error.strerror or error}", "choose another --output") from error
    tell(f"wrote {path}; try `mealcalc macros {path}`")
