"""Learn whose a size is (`extractor/facts/others_sizes.py`), from notes whose facts and traps are written down.

    python -m training.sizes extractor/facts/others_sizes.tsv tests/gold/*.yaml tests/pieces/*.yaml

A number of a note is this case's if a measurement has its value, and another's if a trap or a reference has; so is one
that a rule reads and no annotation has. Of the rest nothing is said. The examples beside the rules are sizes of the
case, said plainly. A logistic regression over the signs at each number learns which it is. With `--folds`, each note
is weighed by what all but a part of the notes taught, itself among that part, and how many numbers of either kind lie
above each weight is printed.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import yaml

from extractor.facts.engine import read_facts
from extractor.facts.size_signs import Sign, signs_of
from extractor.grammar.limits import Limit, limits_of
from extractor.grammar.packs import Grammar, load_grammar
from extractor.language.annotate import annotate
from extractor.language.quantities import Quantity
from extractor.language.units import canonical, convert, unit_words
from training.regression import Case, learnt

LEAST_NUMBERS, LEAST_NOTES = 6, 4
"""A sign is kept that stands at so many numbers, in so many notes."""
L1, L2 = 1.0, 1.0
SHORT = 0.3
"""How much a number of a piece or an example weighs: without a note around it, it has few signs."""
CLOSE = 0.05
"""Half a tenth: what rounding in an annotation may leave."""
VALUES = ("value", "low", "high")
SIZES = frozenset({"measurement", "range"})
WEIGHTS = (-100, -50, 0, 50, 100, 150)
"""Weights above which numbers are counted to judge by."""


def numbers_of(note: Mapping[str, Any], number: int, grammar: Grammar) -> Iterator[Case[Sign]]:
    """The numbers of a note of which its annotation tells whose they are; true are those that are another's."""
    told = (note.get("facts") or {}).get("measurements") or []
    whole = "measurements" in (note.get("facts") or {})
    ours = [m for m in told if m.get("role") != "reference"]
    traps = (note.get("not_facts") or {}).get("measurements") or []
    theirs = [*traps, *(m for m in told if m.get("role") == "reference")]
    either = [*ours, *theirs, *((note.get("optional") or {}).get("measurements") or [])]
    reading = read_facts(annotate(note["note"], grammar))
    limits = limits_of(grammar.folders).measurements
    read_as = {c.slot.number: c.rule.value.split() for c in reading.claims if c.rule.kind in SIZES}
    for at, q in enumerate(reading.case.note.quantities):
        is_ours, is_theirs, known = (any(_same(q, m, limits) for m in stated) for stated in (ours, theirs, either))
        if is_ours == is_theirs:  # two things may have one value; or nobody told of it, and a rule reads it
            is_ours = any(m["what"] in read_as.get(at, ()) and _same(q, m, limits) for m in ours)
            is_theirs = whole and not known and at in read_as
        if q.kind == "quantity" and is_ours != is_theirs:
            yield Case(sorted(signs_of(reading.case, q)), is_theirs, note.get("weight", 1.0), number)


def plain_numbers(text: str, number: int, grammar: Grammar) -> Iterator[Case[Sign]]:
    """The sizes that rules read in a sentence of this case."""
    reading = read_facts(annotate(text, grammar))
    for claim in reading.claims:
        q = claim.slot.quantity
        if claim.rule.kind in SIZES and q.kind == "quantity" and reading.case.assertion(q.number_start).done:
            yield Case(sorted(signs_of(reading.case, q)), False, SHORT, number)


def _same(q: Quantity, fact: Mapping[str, Any], limits: Mapping[str, Limit]) -> bool:
    """Whether a number is the one of a fact, as far as value and unit tell."""
    limit = limits.get(fact["what"])
    code = fact.get("unit") or (limit.unit if limit else None)
    unit = next((u for u in unit_words().units.values() if u.code == code), None)
    if unit and q.dimension and unit.dimension != q.dimension:
        return False  # six weeks are no trap for six millimeters
    stated = [(getattr(q, k), float(fact[k])) for k in VALUES if fact.get(k) is not None]
    if unit:
        stated = [(said, convert(value, unit, canonical(unit))) for said, value in stated]
    if q.value is None and "value" in fact:  # zero to ninety: extension and flexion
        return any(said is not None and abs(said - stated[0][1]) <= CLOSE for said in (q.low, q.high))
    return bool(stated) and all(said is not None and abs(said - value) <= CLOSE for said, value in stated)


def _notes(read: Any) -> list[Mapping[str, Any]]:
    """The note of a file, or its pieces."""
    if isinstance(read, dict):
        return [read]
    return [{"note": p["say"], **p, "not_facts": p.get("absent"), "weight": SHORT} for p in read]


def _read(paths: Sequence[Path], grammar: Grammar) -> list[Case[Sign]]:
    """The numbers of all notes, and of all examples of the rules for sizes."""
    notes = [note for path in paths for note in _notes(yaml.safe_load(path.read_text(encoding="utf-8")))]
    numbers = [said for number, note in enumerate(notes) for said in numbers_of(note, number, grammar)]
    told = [example.partition(" -> ")[0] for rule in grammar.rules if rule.kind in SIZES for example in rule.examples]
    for number, text in enumerate(dict.fromkeys(told), len(notes)):
        numbers += plain_numbers(text, number, grammar)
    return numbers


def _learnt(numbers: Sequence[Case[Sign]]) -> dict[Sign, int]:
    return learnt(numbers, least=LEAST_NUMBERS, notes=LEAST_NOTES, l1=L1, l2=L2)


def judged(numbers: Sequence[Case[Sign]], folds: int) -> list[tuple[int, Case[Sign]]]:
    """Each number of a note and what it weighs by all notes but its fold's."""
    out = []
    for fold in range(folds):
        weights = _learnt([n for n in numbers if n.note % folds != fold])
        held_out = (n for n in numbers if n.note % folds == fold and n.weight == 1)
        out += [(sum(weights.get(sign, 0) for sign in n.signs), n) for n in held_out]
    return out


def main() -> None:
    """Learn from notes and write the weights."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("out", type=Path)
    parser.add_argument("notes", type=Path, nargs="+")
    parser.add_argument("--folds", type=int, default=0, help="judge by so many parts of the notes, each left out once")
    args = parser.parse_args()
    grammar = load_grammar()
    numbers = _read(sorted(args.notes), grammar)
    weights = _learnt(numbers)
    table = [f"{weights[place, sign]}\t{place}\t{sign}\n" for place, sign in sorted(weights)]
    args.out.write_text("".join(table), encoding="utf-8")
    print(f"{len(numbers)} numbers, {sum(n.true for n in numbers)} of others, {len(weights)} weights")
    weighed = judged(numbers, args.folds)
    for least in WEIGHTS if weighed else ():
        theirs, ours = (sum(w > least for w, n in weighed if n.true == kind) for kind in (True, False))
        print(f"above {least}: {theirs} of others, {ours} of the case")


if __name__ == "__main__":
    main()
