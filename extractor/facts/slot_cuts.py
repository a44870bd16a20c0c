"""Where the words between two quantities of a sentence part: which are said of the first, and which of the next."""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.language.clause_words import CONNECTORS, DETERMINERS, PREPOSITIONS, PRONOUNS
from extractor.language.concepts import Concept
from extractor.language.quantities import Quantity

ATTRIBUTE = 3
"""Words from a size to the noun it stands before, at most: 'a six centimeter long incision'."""
NO_NOUN = DETERMINERS | PREPOSITIONS | CONNECTORS | PRONOUNS
HOW_LONG = frozenset({"for", "after", "until", "till", "over", "during", "the"})
"""Words that lead in how long something holds."""
SPANS = frozenset({"plan_time", "years", "time"})
"""Of these nothing is measured along a side: 'in the first week | bending not beyond ninety'."""
WITH = frozenset({"with", "having"})
"""'A nineteen millimeter gap | with a depth of nine'."""
LED_ON = WITH | {"to", "at"}
"""'Drilled ten millimeters | to a depth of twenty-five'."""
ARTICLE = frozenset({"a", "an"})
WHERE = ("bone", "compartment", "region", "structure", "tissue", "plug-site", "tunnel-site", "graft-tissue", "side")
"""Lists whose words only tell which of several a thing is: 'the tibial bone block'."""
LEAD = 8
"""Words from a dimension to the number it leads in, at most: 'length of the graft is about 21'."""
SAID_OF = DETERMINERS | {"of", "is", "was", "at", "about", "measures", "measured", ":", "=", "like"}
"""Words that may stand there beside the name of a thing."""


def cut(case: Case, left: Quantity, right: Quantity) -> int:
    """Where the words between two quantities part."""
    level = case.note.segments.level
    right_start = max(right.start, left.end)
    breaks = [i for i in range(left.end, right_start + 1) if level[i] >= 1]
    dims = [c for c in case.within("dimension", left.end, right.start) if c.end <= right.number_start]
    if breaks:
        first = breaks[0]
        # 'nine millimeters, rim to free edge, and fourteen from the root': a dimension set off by commas
        # belongs to the quantity before it where that one has none and the next has its own
        if first <= left.end + 1 and len(breaks) > 1 and dims and not _has_dimension(case, left, left.end):
            after = [i for i in breaks if i > dims[0].end - 1]
            own = case.within("dimension", right.end, min(right.end + 4, case.sentence(right.start).end)) or dims[1:]
            if after and own and dims[0].start - first <= 2:
                return after[0]
        return first
    if right.dimension == "plan_time" and left.dimension != "plan_time" and case.words[right_start - 1] in HOW_LONG:
        return right_start - 1  # 'zero to ninety in the brace | for four weeks'
    if dims and _leads(case, dims[-1], right) and _led_by_dimension(case, left):
        return _opens(case, dims[-1], left.end)  # 'length 21 width 9'
    if dims and case.words[left.end] in LED_ON and _of_next(case, dims[-1], right):
        return left.end  # '24 by 10 | with a root distance of 7'
    if dims and dims[0].start - left.end <= 2 and left.dimension not in SPANS:
        return dims[0].end
    return next((i for i in range(left.end, right_start) if case.words[i] in WITH), _noun_end(case, left, right_start))


def _noun_end(case: Case, q: Quantity, end: int) -> int:
    """Where the noun ends that a size stands before as its attribute: 'a six centimeter incision | opened to eight'.

    Behind 'a' the unit need not be in the singular: 'with a 4.5 mm shaver | until 2 mm of rim remained'.
    """
    unit, lead = case.words[q.end - 1], case.words[q.number_start - 1]
    if lead not in ARTICLE and unit not in case.grammar.plain_words("singular-unit"):
        return q.end
    noun = next((c for c in case.within("thing", q.end, q.end + ATTRIBUTE) if c.end <= end), None)
    plain = noun is not None and NO_NOUN.isdisjoint(case.words[q.end : noun.start])
    return noun.end if noun is not None and plain else q.end


def _of_next(case: Case, dimension: Concept, right: Quantity) -> bool:
    """'A root distance of seven': the dimension is said of the number behind it."""
    return case.words[dimension.end : right.start] in ([], ["of"], ["of", "about"])


def _led_by_dimension(case: Case, q: Quantity) -> bool:
    """'Length 21', 'length of the gap is 21', and not '18 long 9', where it is that of the number before."""
    start, sentence = q.number_start, case.sentence(q.number_start)
    before = next((o.end for o in case.numbers_before(q.start)), -1)
    named = case.within("dimension", max(sentence.start, start - LEAD), start)
    return any(c.start != before and c.start >= before and _leads(case, c, q) for c in named)


def _leads(case: Case, dimension: Concept, q: Quantity) -> bool:
    """Whether only what it is of, or that it is so much, stands between a dimension and the number behind it."""
    start, end = dimension.end, q.number_start
    things = {i for name in ("thing", *WHERE) for c in case.within(name, start, end) for i in range(c.start, c.end)}
    return all(i in things or case.words[i] in SAID_OF for i in range(start, end))


def _opens(case: Case, dimension: Concept, floor: int) -> int:
    """Where what leads in a dimension opens: '23 millimeters | in the width of 8'."""
    start = dimension.start
    while start > floor and case.words[start - 1] in NO_NOUN:
        start -= 1
    return start


def _has_dimension(case: Case, q: Quantity, end: int) -> bool:
    clause = case.clause(q.number_start)
    return bool(case.within("dimension", clause.start, end))
