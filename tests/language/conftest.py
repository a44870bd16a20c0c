"""How the quantities of a sentence are written down in these tests."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from extractor.language.quantities import Quantity, read_quantities
from extractor.language.tokens import tokenize


def number(value: float | None) -> str:
    return "" if value is None else f"{value:.6g}"


def written(q: Quantity) -> str:
    value = number(q.value) if q.low is None and q.high is None else f"{number(q.low)}..{number(q.high)}"
    if q.kind in ("identifier", "clock", "suture-size") and q.text:
        value = q.text or ""
    marks = [f"{sign}{number(v)}" for sign, vs in (("<", q.earlier), ("+", q.counted), ("|", q.rivals)) for v in vs]
    marks += ["~"] * q.approximate + ["="] * q.said_twice + ["*"] * q.unit_inherited
    marks += [f"@{q.product}.{q.part}"] if q.product is not None else []
    sort = [f"({q.kind})"] if q.kind != "quantity" else []
    return " ".join([value, *([q.unit] if q.unit and q.kind != "age" else []), *marks, *sort])


def read_sentence(sentence: str) -> list[str]:
    return [written(q) for q in read_quantities(tokenize(sentence).words)]


@pytest.fixture(name="read")
def read_fixture() -> Callable[[str], list[str]]:
    """Read a sentence into written quantities.

    `1..2` is a range, `..25` at most, `10..` at least; `<18` an earlier value, `+5` a value counted past,
    `|50` a rival, `~` about, `=` said twice, `*` unit taken over, `@1.0` product and part; a sort other than a
    quantity stands in brackets.
    """
    return read_sentence
