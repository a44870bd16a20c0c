"""A meniscus repair announced without its compartment takes that of the tear, never of the meniscus found intact.

The sentences are the project's own; that surgeons speak so is common practice, no source.
"""

from __future__ import annotations

import pytest

from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.speech.transcript import Transcript

SIDES = [("medial", "lateral"), ("lateral", "medial")]
LATE = (
    "Left knee meniscus repair. The {o} meniscus is intact. In the {c} compartment there is a bucket handle tear. "
    "Reduced and stitched with five inside-out sutures.",
    "Left knee meniscus repair. The tear sits in the {c} meniscus. The {o} meniscus is intact. Three stitches.",
    "Left knee arthroscopy. We repaired the meniscus with three stitches inside-out. It was the {c} meniscus.",
    "Left knee {c} meniscus repair. I said {o} on the phone, it is {c}. Three stitches inside-out.",
    "Left knee {o} meniscus repair, correction, {c} meniscus repair. Three inside-out stitches.",
)
SLIPS = (
    "Left knee {c} meniscus repair. Tear repaired with three stitches. That completes the {o} meniscus repair.",
    "Left knee {c} meniscus repair. Three stitches. Then the {o} meniscus repair was probed and was stable.",
)


def read(told: str, c: str, o: str) -> tuple[list[str | None], set[str]]:
    record = extract(Transcript(text=told.format(c=c, o=o) + " Closed and dressed."), load_grammar())
    return [p.compartment for p in record.procedures if p.status == "performed"], {f.check for f in record.flags}


@pytest.mark.parametrize(("c", "o"), SIDES)
@pytest.mark.parametrize("told", LATE)
def test_the_compartment_told_late(told: str, c: str, o: str) -> None:
    places, flags = read(told, c, o)
    assert places == [c]
    assert "compartment-conflict" not in flags


@pytest.mark.parametrize(("c", "o"), SIDES)
@pytest.mark.parametrize("told", SLIPS)
def test_a_slip_in_what_is_recalled(told: str, c: str, o: str) -> None:
    assert "compartment-conflict" in read(told, c, o)[1]
