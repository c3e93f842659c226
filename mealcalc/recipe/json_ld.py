"""Recipes of web pages: schema.org Recipe as JSON-LD, alone or in the scripts of an HTML page.

Vocabulary: https://schema.org/Recipe (name, recipeIngredient or its older form ingredients, recipeYield).
"""

import html
import json
import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from mealcalc.diagnostics import Diagnostic, Severity, Span
from mealcalc.recipe.html_scripts import Script, json_ld_scripts
from mealcalc.recipe.json_text import DEEPEST_JSON, Literal, find_after_key, literals, too_deep_at
from mealcalc.recipe.plain_text import ComponentCollector
from mealcalc.recipe.result import ReadResult, RegionChoice, check_containers, containers_assumed
from mealcalc.recipe.source import Source, one_line, title_of
from mealcalc.records import Batch

INGREDIENT_KEYS = ("recipeIngredient", "ingredients")
DEEPEST_RECIPE = 6
"""Lists and objects around a recipe; pages put it at the top, in a list, in @graph or in the page that it is about."""

_AROUND = ("@graph", "mainEntity", "mainEntityOfPage", "hasPart", "itemListElement", "item")
_NUMBER = re.compile(r"[0-9]{1,12}(?:\.[0-9]{1,12})?")
_RANGE = re.compile(r"[0-9]\s*(?:-|–|to)\s*[0-9]")
_TAG = re.compile(r"</?([a-zA-Z][a-zA-Z0-9]*)[^<>]{0,300}>")
_INLINE_TAGS = frozenset("a abbr b em i small span strong sub sup u".split())
_LINE_END = re.compile(r"\n|<br\s*/?>", re.IGNORECASE)

Recipe = Mapping[str, object]


@dataclass(frozen=True, slots=True)
class _Found:
    recipe: Recipe
    script: Script


def read_json_ld(source: Source, choice: RegionChoice) -> ReadResult:
    """Read the first schema.org Recipe with ingredients of a JSON text.

    Parameters
    ----------
    source : Source
        The text of the file.
    choice : RegionChoice
        Regions known from outside the file.

    Returns
    -------
    ReadResult
        The batch; None if the text is no JSON or holds no recipe with ingredients.
    """
    return _Door(source, choice).read([Script(source.text, 0)], Severity.ERROR)


def read_html(source: Source, choice: RegionChoice) -> ReadResult:
    """Read the first schema.org Recipe with ingredients in the JSON-LD scripts of an HTML page; as `read_json_ld`.

    Scripts that are no JSON are skipped with a warning.
    """
    return _Door(source, choice).read(json_ld_scripts(source.text), Severity.WARNING)


class _Door:
    def __init__(self, source: Source, choice: RegionChoice) -> None:
        self.source = source
        self.choice = choice
        self.diagnostics = list(source.diagnostics)
        self.cut = False

    def read(self, scripts: list[Script], severity: Severity) -> ReadResult:
        found: list[_Found] = []
        for script in scripts:
            content = self._load(script, severity)
            found += [_Found(recipe, script) for recipe in self._recipes(content, 0)]
        usable = [f for f in found if any(self._ingredients(f.recipe, tell=False))]
        if not usable:
            self._tell_none(found, severity)
            return ReadResult(None, tuple(self.diagnostics), "")
        if len(usable) > 1:
            others = ", ".join(f"'{_text(f.recipe.get('name'))[:60] or 'without name'}'" for f in usable[1:10])
            self._tell(
                Severity.WARNING,
                "several-recipes",
                f"the file holds {len(usable)} recipes; only the first is read",
                self._key_place(usable[1], INGREDIENT_KEYS),
                f"save the others in files of their own: {others}",
            )
        return self._batch(usable[0])

    def _batch(self, found: _Found) -> ReadResult:
        settled = self.choice.settle(None, self.source.start)
        self.diagnostics += settled.diagnostics
        containers = self._containers(found)
        collector = ComponentCollector(settled.region, self.diagnostics)
        for raw, place in self._placed_ingredients(found):
            for part in _LINE_END.split(html.unescape(html.unescape(raw))):
                text = _without_tags(part)
                if text:
                    collector.add(text, place)
        components = collector.components()
        if not components:
            self._tell_none([found], Severity.ERROR)
            return ReadResult(None, tuple(self.diagnostics), settled.ground)
        batch = Batch(
            title=_text(found.recipe.get("name")) or title_of(self.source),
            components=components,
            region=settled.region,
            containers=containers,
            file=self.source.name,
        )
        return ReadResult(batch, tuple(self.diagnostics), settled.ground)

    def _load(self, script: Script, severity: Severity) -> object:
        deep = too_deep_at(script.text)
        if deep is not None:
            place = self._place(script, deep, deep + 1)
            message = f"the JSON is nested more than {DEEPEST_JSON} levels deep and is not read"
            self._tell(severity, "nested-too-deep", message, place, "save the recipe alone, without what is around it")
            return None
        try:
            content: object = json.loads(script.text, strict=False)
        except json.JSONDecodeError as error:
            start = min(error.pos, max(0, len(script.text.rstrip()) - 1))
            reason = f"{error.msg[:1].lower()}{error.msg[1:]}"
        except (ValueError, RecursionError) as error:  # a number of thousands of digits
            start, reason = 0, " ".join(str(error).split())[:100]
        else:
            return content
        skipped = " and is skipped" if severity is Severity.WARNING else ""
        place = self._place(script, start, start + 1)
        self._tell(severity, "json-syntax", f"this is no JSON{skipped}: {reason}", place, "mend this place")
        return None

    def _recipes(self, content: object, depth: int) -> Iterator[Recipe]:
        if isinstance(content, (list, dict)) and depth > DEEPEST_RECIPE:
            self.cut = True
        elif isinstance(content, list):
            for entry in content:
                yield from self._recipes(entry, depth + 1)
        elif isinstance(content, dict):
            if _is_recipe(content.get("@type")):
                yield content
                return
            for key in _AROUND:
                yield from self._recipes(content.get(key), depth + 1)

    def _ingredients(self, recipe: Recipe, *, tell: bool, script: Script | None = None) -> Iterator[str]:
        key = _ingredient_key(recipe)
        value = recipe.get(key)
        if isinstance(value, dict) and isinstance(value.get("itemListElement"), list):
            value = value["itemListElement"]
        for number, entry in enumerate(value if isinstance(value, list) else [value], start=1):
            text = _entry_text(entry)
            if text is not None and text.strip():
                yield text
            elif tell and script is not None and text is None:
                self._tell(
                    Severity.ERROR,
                    "bad-ingredient",
                    f"ingredient {number} is no text and is not counted",
                    self._key_place(_Found(recipe, script), (key,)),
                    'write it as a text, such as "400 g brown rice"',
                )

    def _placed_ingredients(self, found: _Found) -> Iterator[tuple[str, Span]]:
        texts = list(self._ingredients(found.recipe, tell=True, script=found.script))
        places = find_after_key(literals(found.script.text), _ingredient_key(found.recipe), texts)
        for text, literal in zip(texts, places, strict=True):
            yield text, self._literal_place(found.script, literal)

    def _containers(self, found: _Found) -> int:
        value = found.recipe.get("recipeYield")
        if value is None or value == "" or value == []:
            self.diagnostics.append(containers_assumed(self._key_place(found, INGREDIENT_KEYS)))
            return 1
        place = self._key_place(found, ("recipeYield",))
        number, written = _yield_of(value)
        count, told = check_containers(number, written, place)
        self.diagnostics += told
        if not told and _RANGE.search(written):
            self._tell(
                Severity.WARNING,
                "yield-range",
                f"'{written[:60]}' is a range; {count} containers are counted",
                place,
                "give the number that you fill",
            )
        return count

    def _tell_none(self, found: list[_Found], severity: Severity) -> None:
        if found:
            message, code = "the recipe has no ingredients", "no-ingredients"
            place = self._key_place(found[0], INGREDIENT_KEYS)
        elif self.cut:
            message, code = f"no recipe stands within {DEEPEST_RECIPE} levels of lists and objects", "nested-too-deep"
            place = self.source.start
        elif severity is Severity.ERROR and any(d.severity is Severity.ERROR for d in self.diagnostics):
            return
        else:
            message, code = "there is no schema.org Recipe in the file", "no-recipe"
            place = self.source.start
        self._tell(Severity.ERROR, code, message, place, "copy the ingredients into a text file, one per line")

    def _tell(self, severity: Severity, code: str, message: str, span: Span, hint: str) -> None:
        self.diagnostics.append(Diagnostic(code, severity, message, span, hint))

    def _place(self, script: Script, start: int, end: int) -> Span:
        return self.source.place(script.start + start, script.start + end)

    def _literal_place(self, script: Script, literal: Literal | None) -> Span:
        if literal is None:
            start = len(script.text) - len(script.text.lstrip())
            return self._place(script, start, start + 1)
        return self._place(script, literal.start, literal.end)

    def _key_place(self, found: _Found, keys: tuple[str, ...]) -> Span:
        strings = literals(found.script.text)
        name = next((i for i, s in enumerate(strings) if s.value == found.recipe.get("name")), 0)
        for after in (name, 0):
            literal = next((s for s in strings[after:] if s.value in keys), None)
            if literal is not None:
                return self._literal_place(found.script, literal)
        return self._literal_place(found.script, None)


def _is_recipe(kind: object) -> bool:
    kinds = kind if isinstance(kind, list) else [kind]
    return any(isinstance(k, str) and re.split(r"[/:#]", k)[-1] == "Recipe" for k in kinds)


def _ingredient_key(recipe: Recipe) -> str:
    return next((key for key in INGREDIENT_KEYS if recipe.get(key)), INGREDIENT_KEYS[0])


def _entry_text(entry: object) -> str | None:
    """The text of an entry of the list of ingredients; None if it has none."""
    if isinstance(entry, str):
        return entry
    if isinstance(entry, dict):
        for key in ("name", "text", "item"):
            if isinstance(entry.get(key), str):
                return str(entry[key])
    return None


def _yield_of(value: object) -> tuple[float | None, str]:
    """The number in a recipeYield, None if it has none, and how it is written."""
    if isinstance(value, bool) or value is None:
        return None, str(value).lower()
    if isinstance(value, (int, float)):
        number = float(value) if abs(value) < 1e12 else math.inf
        return (None if math.isnan(number) else number), str(value)[:40]
    if isinstance(value, str):
        text = one_line(html.unescape(value))
        match = _NUMBER.search(text)
        return (float(match.group()) if match else None), text
    if isinstance(value, dict):
        return _yield_of(value.get("value", value.get("minValue")))
    if isinstance(value, list):
        entries = [_yield_of(entry) for entry in value if not isinstance(entry, list)]
        return next((entry for entry in entries if entry[0] is not None), entries[0] if entries else (None, "[]"))
    return None, "?"


def _text(value: object) -> str:
    return _without_tags(html.unescape(value)) if isinstance(value, str) else ""


def _without_tags(text: str) -> str:
    return one_line(_TAG.sub(lambda match: "" if match[1].lower() in _INLINE_TAGS else " ", text))
