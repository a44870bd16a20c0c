"""Sizes said in a note that are not this case's: weighed by all signs around each, where no word list tells.

'Nine is what everybody drills', 'the other one hyperextends ten', 'on the scan it had widened to fourteen': word lists
know single signs of whose a size is (`theirs`, `extractor.language.generic`); this weighs all of them together
(`size_signs`), as `extractor.language.unpunctuated` does where thoughts part. `training.sizes` learns the weights from
the notes whose facts and traps are written down.

No size of the case is let fall silently by it. One that is told like another's yields to one of the same thing that is
clearly told as this case's; standing alone, it becomes a reference and is asked about. Two that both look like this
case's stay, and conflict. Of numbers that no rule reads, those told like another's are not asked about.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import lru_cache
from importlib.resources import files

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft, FlagDraft
from extractor.facts.scanned import read_off_scan
from extractor.facts.size_signs import LOOKS, Placed, numbers_inside
from extractor.grammar.limits import limits_of
from extractor.language.figures import in_figures
from extractor.language.quantities import Quantity

WEIGHTS = "others_sizes.tsv"
ALONE, UNREAD, BESIDE = 150, 100, 0
"""Weights (hundredths of a logit) above which a size is told like another's: where it stands alone; where no rule reads
it; and beside one of its thing that is this case's. `training/README.md` says how often each errs."""
OURS, LESS = -50, 200
"""What that one weighs at most, and how much less at least."""
OUR_OWN = -1000
"""What was put right by the speaker weighs so little; so does what is off a scan, which yields as `settled` says."""
SETTLED = (-200, -300, OURS, 0)
"""Weights of the signs of each look (`LOOKS`) and of those before it, below which no others are asked."""
ANOTHERS = "told like another's"
"""The rule that the evidence names."""
AROUND = 6
"""Words on either side that are shown of a size asked about."""
VALUES = ("value", "low", "high")
NONE: dict[str, int] = {}


def left_aside(case: Case, drafts: Sequence[FactDraft]) -> tuple[list[FactDraft], list[FlagDraft]]:
    """All drafts, those told like another's as references, and a question for each that stands alone."""
    sizes = [n for n, d in enumerate(drafts) if d.kind == "measurements" and d.fields.get("role") != "reference"]
    weight = {n: min((_own_weight(case, q) for q in _numbers(case, drafts[n])), default=OUR_OWN) for n in sizes}
    out, flags = list(drafts), []
    for n in sizes:
        if weight[n] <= BESIDE:
            continue
        beside = [weight[m] for m in sizes if m != n and are_rivals(case, drafts[n], drafts[m])]
        yields = any(w < OURS and weight[n] - w > LESS for w in beside)
        if yields or (not beside and weight[n] > ALONE):
            q = _numbers(case, drafts[n])[0]
            spans = (*drafts[n].spans, case.span(q.start, q.end, ANOTHERS))
            out[n] = replace(drafts[n], fields={**drafts[n].fields, "role": "reference"}, spans=spans)
            flags += [] if yields else [_asked(case, q)]
    return out, flags


def is_anothers(case: Case, q: Quantity) -> bool:
    """Whether a number that no rule reads is so surely another's that nobody need be asked."""
    return weight_of(case, q) > UNREAD


def weight_of(case: Case, q: Quantity) -> int:
    """How much the signs around a number say that it is another's, in hundredths of a logit.

    Farther ones are asked only where the nearer leave it open.
    """
    total = 0
    for look, settled in zip(LOOKS, SETTLED, strict=True):
        total += _weight(look(case, q))
        if total < settled:
            break
    return total


def _weight(placed: Iterable[Placed]) -> int:
    """What signs weigh together, each that a place has several times counted once."""
    weights, total = _weights(), 0
    for place, found in placed:
        of_place = weights.get(place, NONE)
        total += sum([of_place[sign] for sign in of_place.keys() & found])
    return total


def _own_weight(case: Case, q: Quantity) -> int:
    return OUR_OWN if q.earlier or q.put_right or read_off_scan(case, q) else weight_of(case, q)


def _numbers(case: Case, draft: FactDraft) -> list[Quantity]:
    """The numbers that a fact was read from."""
    return [q for span in draft.spans for q in numbers_inside(case, span.start, span.end)]


def _asked(case: Case, q: Quantity) -> FlagDraft:
    """The question whether a size belongs to the case."""
    said, comes_to = case.note.tokens.said(q.start, q.end), in_figures(q)
    sentence = case.sentence(q.number_start)
    around = case.note.tokens.said(max(sentence.start, q.start - AROUND), min(sentence.end, q.end + AROUND)).strip()
    value = f" ({comes_to})" if comes_to and comes_to != said else ""
    message = f"'{said}'{value} in '{around}' is told like another's size, so it is left aside; is it this case's?"
    return FlagDraft("unread-number", message, (case.span(q.start, q.end, ANOTHERS),))


def are_rivals(case: Case, one: FactDraft, other: FactDraft) -> bool:
    """Whether two sizes are of the one thing there is of their kind, and differ."""
    what = str(one.fields["what"])
    limit = limits_of(case.grammar.folders).measurements.get(what)
    if other.fields["what"] != what or limit is None or not limit.single:
        return False
    apart = ((one.fields.get(f), other.fields.get(f)) for f in ("site", *limit.apart, *limit.same, *limit.split))
    return all(a == b or None in (a, b) for a, b in apart) and _value(one) != _value(other)


def _value(d: FactDraft) -> tuple[object, ...]:
    return tuple(d.fields.get(k) for k in VALUES)


@lru_cache(maxsize=1)
def _weights() -> dict[str, dict[str, int]]:
    """Weights of the signs of each place, in hundredths of a logit: whole numbers, so that their sum has no order."""
    weights: dict[str, dict[str, int]] = {}
    for line in files(__package__).joinpath(WEIGHTS).read_text(encoding="utf-8").splitlines():
        weight, place, sign = line.split("\t")
        weights.setdefault(place, {})[sign] = int(weight)
    return weights
