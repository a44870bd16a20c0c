"""What tells that a number of stitches is a sum, or is said of each surface: 'six in all', 'three on each side'."""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.language.clauses import Span
from extractor.language.quantities import Quantity

SUMMING = frozenset({"makes", "making", "made", "totaling", "totalling", "totals", "equals", "sum"})
"""'..., so that makes five implants'."""
PRONOUNS = frozenset({"these", "those", "them", "which"})
THE = frozenset({"the", "these", "those", "our", "my"})
IMPLANTS = frozenset({"implants", "knots", "devices"})
PLACED_BEHIND = 5
"""'That makes three stitches in the body' sums up those of the body alone: words up to the place."""


def summed(case: Case, q: Quantity, sentence: Span) -> bool:
    """Whether a number is said to be the sum: 'a total of six', 'six altogether'."""
    words = case.words
    ahead = words[max(sentence.start, q.number_start - 4) : q.number_start]
    behind = words[q.end : min(q.end + 5, sentence.end)]
    return (
        ("total" in ahead and "of" in ahead and "," not in ahead[ahead.index("total") :])
        or (ahead[:2] in (["in", "total"], ["in", "all"]) and ahead[2:3] != ["inside"])
        or (bool(SUMMING & set(ahead[-3:])) and not case.within("region", q.end, q.end + PLACED_BEHIND))
        or "altogether" in behind
        or any(
            behind[i : i + 2] in (["in", "total"], ["in", "all"]) and behind[i + 2 : i + 3] != ["inside"]
            for i in range(len(behind))
        )
    )


def on_each(case: Case, start: int, end: int) -> bool:
    """'Three on each surface', 'two on either side', 'one above and below each'."""
    words, faces = case.words[start : min(start + 4, end)], case.grammar.plain_words("each-face")
    return any(
        words[i] in {"on", "at", "to", "from"} and words[i + 1] in {"each", "either", "both"} and words[i + 2] in faces
        for i in range(len(words) - 2)
    )


def of_those(case: Case, end: int) -> int | None:
    """Where 'of these', 'of the stitches' behind a number ends: it is a part of those told before."""
    said = case.words[end : end + 3]
    if said[:1] != ["of"] or len(said) < 3:
        return None
    if said[1] in THE and said[2].endswith("s") and said[2] in case.grammar.plain_words("stitch-word") | IMPLANTS:
        return end + 3
    return end + 2 if said[1] in PRONOUNS else None
