"""Speech without punctuation: where a finding or a size opens a thought. Sentences are worded for these tests."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import Grammar, load_grammar
from extractor.language.annotate import annotate

LEAD = (
    "left knee under spinal anesthesia time out done he was prepped and draped two portals were made and we had a look "
)
TAIL = (
    " after that the joint was washed and the portals were closed with nylon and a dressing was put on and he went out"
)


def between(text: str, grammar: Grammar) -> list[str]:
    """The clauses between the lead and the tail, which make the whole long enough to be speech without punctuation."""
    note = annotate(LEAD + text + TAIL, grammar)
    said = [" ".join(note.words[c.start : c.end]) for c in note.segments.clauses]
    whole = " | ".join(said)
    return whole.split("had a look | ")[1].split(" | after that")[0].split(" | ")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # findings without a verb
        (
            "lateral meniscus intact ACL intact medial meniscus torn",
            ["lateral meniscus intact", "acl intact", "medial meniscus torn"],
        ),
        (
            "so patella grade one trochlea grade two no loose bodies",
            ["so patella grade one", "trochlea grade two", "no loose bodies"],
        ),
        # what was found goes with its verb, and the next structure does not
        (
            "the ACL was completely torn medial meniscus had a flap",
            ["the acl was completely torn", "medial meniscus had a flap"],
        ),
        # a subject right behind a size told in full
        (
            "the graft had a length of sixty eight millimeters notch was cleared",
            ["the graft had a length of sixty eight millimeters", "notch was cleared"],
        ),
        # what has a size of its own, and the other one of two
        (
            "the guide was at fifty five degrees tunnel length forty one millimeters",
            ["the guide was at fifty five degrees", "tunnel length forty one millimeters"],
        ),
        (
            "the posterior tunnel was fifty millimeters long anterior one six millimeters",
            ["the posterior tunnel was fifty millimeters long", "anterior one six millimeters"],
        ),
        # a size in the singular goes with its noun
        (
            "so the wedge through a six centimeter incision opened to eight degrees",
            ["so the wedge through a six centimeter incision opened to eight degrees"],
        ),
    ],
)
def test_a_thought_opens_where_nothing_is_punctuated(text: str, expected: list[str]) -> None:
    assert between(text, load_grammar()) == expected
