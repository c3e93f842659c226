"""Pages in HTML that need nothing beside themselves: templates filled in, every text escaped."""

from collections.abc import Mapping
from functools import cache
from importlib.resources import files

from jinja2 import BaseLoader, Environment, StrictUndefined, TemplateNotFound

from mealcalc.reports.plain import harmless, one_line

LONGEST_SHOWN = 10_000
"""Characters shown of a text of the recipe; the rest is cut with an ellipsis."""


def page(template: str, values: Mapping[str, object]) -> str:
    """The page that a template makes of values; the same values give the same page.

    Texts are escaped and lose the characters that would turn the direction of what follows; the templates leave the
    direction of each text of the recipe to its own letters (`dir="auto"`).
    """
    return _environment().get_template(template).render(values)


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=_Templates(), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    environment.filters["shown"] = lambda text: one_line(str(text), LONGEST_SHOWN)
    environment.filters["harmless"] = lambda text: harmless(str(text))
    return environment


class _Templates(BaseLoader):
    """The templates that the package ships; the loaders of the library would import a bytecode cache and more."""

    def get_source(self, environment: Environment, template: str) -> tuple[str, str, None]:  # noqa: ARG002
        path = files("mealcalc.reports") / "templates" / template
        try:
            return path.read_text(encoding="utf-8"), template, None
        except FileNotFoundError:
            raise TemplateNotFound(template) from None
