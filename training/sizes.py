"""Learn whose a size is (`extractor/facts/others_sizes.py`), from notes whose facts and traps are written down.

    python -m training.sizes extractor/facts/others_sizes.tsv tests/gold/*.yaml tests/pieces/*.yaml ...

A number of a note is this case's if a measurement has its value, and another's if a trap or a reference has; so is one
that a rule reads and no annotation has. Of the rest nothing is said. `whose.txt` has sentences with both marked. A
logistic regression over the signs at each number learns which it is. With `--judge`, notes that it did not learn from
are weighed, and how many numbers of either kind lie above each weight is printed.
"""

from __future__ import annotations

import argparse
import re
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import yaml

from extractor.facts import case as facts
from extractor.facts.engine import read_facts
from extractor.facts.others_sizes import Sign, numbers_inside, signs_of
from extractor.grammar.limits import Limit, limits_of
from extractor.grammar.packs import Grammar, load_grammar
from extractor.language.annotate import annotate
from extractor.language.quantities import Quantity
from extractor.language.units import canonical, convert, unit_words
from training.regression import Case, learnt

LEAST_NUMBERS, LEAST_NOTES = 4, 2
"""A sign is kept that stands at so many numbers, in so many notes."""
L1, L2 = 1.0, 1.0
SENTENCES = Path(__file__).parent / "whose.txt"
"""Sentences made for training, since few notes tell what holds for everybody, what tools have, and the other knee."""
MARKED = re.compile(r"(\[[^\]]*\]|\{[^}]*\})")
MADE = 1.0
"""How much a number of a made sentence weighs."""
CLOSE = 0.05
"""Half a tenth: what rounding in an annotation may leave."""
VALUES = ("value", "low", "high")
WEIGHTS = (-200, -100, -50, 0, 50, 100)
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
    read_as = {c.slot.number: c.rule.value.split() for c in reading.claims if c.rule.kind in {"measurement", "range"}}
    for at, q in enumerate(reading.case.note.quantities):
        is_ours, is_theirs, known = (any(_same(q, m, limits) for m in stated) for stated in (ours, theirs, either))
        if is_ours == is_theirs:  # two things may have one value; or nobody told of it, and a rule reads it
            is_ours = any(m["what"] in read_as.get(at, ()) and _same(q, m, limits) for m in ours)
            is_theirs = whole and not known and at in read_as
        if q.kind == "quantity" and is_ours != is_theirs:
            yield Case(list(signs_of(reading.case, q)), is_theirs, 1.0, number)


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


def marked(line: str, number: int, grammar: Grammar) -> Iterator[Case[Sign]]:
    """The numbers marked in a sentence: '[ten] is usual, we drilled {nine millimeters}'."""
    text, marks = "", []
    for piece in MARKED.split(line):
        own = piece.strip("[]{}")
        if own != piece:
            marks.append((len(text), len(text) + len(own), piece[0] == "["))
        text += own
    case = facts.Case(annotate(text, grammar))
    for start, end, is_theirs in marks:
        for q in numbers_inside(case, start, end):
            yield Case(list(signs_of(case, q)), is_theirs, MADE, number)


def _read(paths: Sequence[Path], grammar: Grammar) -> list[Case[Sign]]:
    notes = [note for path in paths for note in _notes(yaml.safe_load(path.read_text(encoding="utf-8")))]
    return [said for number, note in enumerate(notes) for said in numbers_of(note, number, grammar)]


def _notes(read: Any) -> list[Mapping[str, Any]]:
    """The note of a file, or its pieces."""
    if isinstance(read, dict):
        return [read]
    return [{"note": p["say"], **p, "not_facts": p.get("absent")} for p in read]


def main() -> None:
    """Learn from notes and write the weights."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("out", type=Path)
    parser.add_argument("notes", type=Path, nargs="+")
    parser.add_argument("--judge", type=Path, nargs="+", default=[], help="notes to weigh and not to learn from")
    args = parser.parse_args()
    grammar = load_grammar()
    held_out = {path.resolve() for path in args.judge}
    numbers = _read([path for path in args.notes if path.resolve() not in held_out], grammar)
    lines = [line for line in SENTENCES.read_text(encoding="utf-8").splitlines() if line and line[0] != "#"]
    numbers += [said for n, line in enumerate(lines) for said in marked(line, n - len(lines), grammar)]
    weights = learnt(numbers, least=LEAST_NUMBERS, notes=LEAST_NOTES, l1=L1, l2=L2)
    table = [f"{weights[place, word]}\t{place}\t{word}\n" for place, word in sorted(weights)]
    args.out.write_text("".join(table), encoding="utf-8")
    print(f"{len(numbers)} numbers, {sum(n.true for n in numbers)} of others, {len(weights)} weights")
    judged = [(sum(weights.get(s, 0) for s in n.signs), n.true) for n in _read(args.judge, grammar)]
    for least in WEIGHTS if judged else ():
        theirs, ours = (sum(w > least for w, true in judged if true == kind) for kind in (True, False))
        print(f"above {least}: {theirs} of others, {ours} of the case")


if __name__ == "__main__":
    main()
