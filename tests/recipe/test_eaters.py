"""Eaters in a batch file."""

import pytest

from tests.recipe.reading import batch_of, errors, read, shown

BATCH = "containers: 6\ncomponents: [{name: a, ingredients: [1 kg rice]}]\neaters:\n"


def test_shares_and_containers() -> None:
    result = read(BATCH + "  adult: 1.5\n  child: {share: 0.6, containers: 2}\n  guest: {containers: 1}\n")
    assert errors(result) == [], shown(result.diagnostics)
    eaters = batch_of(result).eaters
    assert [(e.name, e.share, e.containers) for e in eaters] == [
        ("adult", 1.5, None), ("child", 0.6, 2), ("guest", 1.0, 1),
    ]  # fmt: skip
    assert [e.span.line for e in eaters if e.span] == [4, 5, 6]


def test_without_eaters_there_are_none() -> None:
    assert batch_of(read(BATCH.removesuffix("eaters:\n"))).eaters == ()


@pytest.mark.parametrize(
    ("text", "code", "left"),
    [
        ("  adult: 0\n  child: 1", "bad-share", ["child"]),
        ("  adult: -1\n  child: 1", "bad-share", ["child"]),
        ("  adult: 500\n  child: 1", "bad-share", ["child"]),
        ("  adult: much\n  child: 1", "bad-share", ["child"]),
        ("  adult: [1]\n  child: 1", "wrong-type", ["child"]),
        ("  adult:\n  child: 1", "missing-value", ["child"]),
        ("  adult: {containers: 0}\n  child: 1", "bad-containers", ["adult", "child"]),
        ("  adult: {containers: 1.5}\n  child: 1", "bad-containers", ["adult", "child"]),
        ("  adult: {portions: 2}\n  child: 1", "unknown-key", ["adult", "child"]),
        ("  adult: 1\n  adult: 2", "duplicate-key", ["adult"]),
        ("  - adult\n", "wrong-type", []),
    ],
)
def test_what_is_wrong_costs_that_eater_alone(text: str, code: str, left: list[str]) -> None:
    result = read(BATCH + text + "\n")
    assert errors(result) == [code], shown(result.diagnostics)
    assert [eater.name for eater in batch_of(result).eaters] == left
