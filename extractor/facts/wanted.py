"""Which numbers want a meaning: those with a unit, and bare ones said where something is measured."""

from __future__ import annotations

from dataclasses import replace

from extractor.facts.across import goes_on
from extractor.facts.bounded import is_bound_of
from extractor.facts.case import Case
from extractor.facts.named_near import (
    LASTS,
    STATED,
    is_attributed,
    is_by_its_size,
    is_headed,
    is_led_up_to,
    is_named_behind,
    is_of_thing,
    is_said_of,
    is_stated_of,
    verb_before,
)
from extractor.facts.one_by_one import is_next_one
from extractor.facts.put_right import is_put_right
from extractor.facts.scanned import read_off_scan
from extractor.facts.theirs import of_another, said_by_bystander
from extractor.facts.wanted_cut import is_cut_to
from extractor.language.clause_words import CONNECTORS
from extractor.language.quantities import Quantity
from extractor.language.said_anew import TALK
from extractor.language.settle import MARKS

LEADS = frozenset(
    ", : is 's of was about at were to it make read until till exactly precisely roughly approximately nearly"
    " past beyond below under over".split()
)
"""Plain words between what is measured and a bare number, beside those of `states-size`."""
FROM_ROOT = frozenset({"from-root", "from-posterior-root", "from-anterior-root"})
"""Of the list `dimension`: what is measured from a root, up to an edge that words of `to-edge` name."""
EDGE_WORDS = 8
"""Tokens of that edge, at most."""
TAKES_BACK = frozenset({"no", "sorry", "wait", "actually", "make", "rather", "correction"})
PLACES = "tunnel-site"
"""The list of places of which there are two in one operation, each with its tunnel."""
ENDS = "graft-end"
"""The list of ends of a graft, which may differ in size."""
APART = 14
"""Tokens between the two ends of a graft, at most, where each has its size."""
SET_AGAINST = frozenset({"considered", "conditional", "planned"})
IT_WITHIN = 4
"""Tokens from 'it' to what it became, at most."""
"""Moods of a number against which that of this case may be set."""
OURS = frozenset({"i", "we", "he", "she", "his", "her", "him"})
"""Whoever dictates, and who lies on the table, speak or are spoken of in this case, as the list `this-case` does."""
OFF = (["from"], ["off"])
ENDS_THERE: tuple[list[str], ...] = ([], [","], ["."], ["then"], ["and"], [";"], ["\n"])
IT_IS = (["it", "is"], ["it", "was"], ["it", "'s"])
OF_THEM = (["of", "them"], ["of", "those"], ["of", "these"])
OWNER = 5
"""Tokens from a number to the "'s" of what it is measured from, at most."""


def is_along_marks(q: Quantity) -> bool:
    """Whether a number was counted up to along a ruler: 'five, ten, fifteen, and nineteen' is a length, bare or not."""
    steps = {b - a for a, b in zip(q.counted, q.counted[1:], strict=False)}
    return len(steps) == 1 and steps <= set(MARKS)


def is_wanted(case: Case, q: Quantity) -> bool:
    """Whether a quantity wants a meaning: it has a unit, or words of measuring stand next to it."""
    if q.kind not in {"quantity", "count"} or _counts_them(case, q):
        return _is_share(case, q)
    if q.dimension is not None or q.product is not None or (q.low is not None and q.high is not None):
        return True
    if q.earlier and case.within("dimension", q.start, q.number_start):
        return True
    if q.kind == "count" and case.words[q.number_start] == "one":
        # 'one shorter than the gap'; not 'one every five millimeters'
        return any(c.key in case.grammar.concepts_in("off-size") for c in case.within("dimension", q.end, q.end + 1))
    behind = q.end + 1 if case.words[q.end : q.end + 1] in (["of"], ["for"]) else q.end
    behind += behind > q.end and case.words[behind : behind + 1] == ["the"]
    if (
        case.within("dimension", q.end, behind + 1)
        or case.within("measured-by", q.end, q.end + 1)
        or is_named_behind(case, q)
        or _off_the_root(case, q)
        or _root_to_edge(case, q)
        or _edge_to_root(case, q)
        or _says_it_is(case, q)
        or is_of_thing(case, q)
        or is_next_one(case, q)
        or is_along_marks(q)
        or is_bound_of(case, q)
    ):
        return True
    opens = q.start if q.earlier or q.counted else q.number_start
    before = opens
    states = case.grammar.plain_words("states-size")
    while before > 0 and opens - before < 3 and (case.words[before - 1] in LEADS or case.words[before - 1] in states):
        before -= 1
    if any(before <= c.end <= opens for c in case.within("dimension", max(0, before - 8), opens)):
        return True
    if q.kind != "quantity" or not opens:
        return False
    says = verb_before(case, opens)
    lead = case.words[says]
    if lead == "by" and any(o.dimension == "length" for o in case.numbers(case.sentence(opens).start, opens)):
        return True  # 'twenty one millimeters, as measured, by eight and a half'
    stated = lead in STATED or lead in states
    stated = stated and any(c.end >= says - 1 for c in case.within("thing", max(0, says - 5), says))
    if _taken_back(case, q):
        return case.words[q.end + 2 : q.end + 3] in ([], ["."]) and is_put_right(
            case, q
        )  # '... long. Nineteen, sorry.'
    if (
        is_said_to_be_same(case, q)
        or _other_place(case, q)
        or _at_the_other(case, q)
        or is_attributed(case, q)
        or is_set_against(case, q)
        or _beside_its_time(case, q)
        or is_stated_of(case, q)
        or is_by_its_size(case, q)
        or _of_one_end(case, q)
        or is_said_of(case, q)
        or goes_on(case, q)
        or is_cut_to(case, q)
        or is_put_right(case, q)
    ):
        return True
    stated = stated or (before < opens and lead in {"at", "to", "until", "till"})
    return stated or is_headed(case, q) or is_led_up_to(case, q)


def _counts_them(case: Case, q: Quantity) -> bool:
    """'Holes eight millimeters apart, nine of them': so many of what was named."""
    return q.kind == "count" and case.words[q.end : q.end + 2] in OF_THEM


def _off_the_root(case: Case, q: Quantity) -> bool:
    """'Thirteen from the donor's posterior root': whose it is stands between a number and what it is measured from."""
    behind = case.within("dimension", q.end + 1, q.end + OWNER)
    return case.words[q.end : q.end + 1] in OFF and any(case.words[c.start] == "'s" for c in behind)


def _root_to_edge(case: Case, q: Quantity) -> bool:
    """'Posterior root to the near edge twelve': to where it is measured stands between that and a bare number."""
    opens = q.start
    edge = case.grammar.plain_words("to-edge")
    while opens > 0 and q.start - opens < EDGE_WORDS and case.words[opens - 1] in edge:
        opens -= 1
    roots = case.within("dimension", max(0, opens - EDGE_WORDS), q.start)
    return any(c.name in FROM_ROOT and opens <= c.end < q.start for c in roots)


def _edge_to_root(case: Case, q: Quantity) -> bool:
    """'Twelve from its back end to the posterior root': the same told from the other end, behind the number."""
    if case.words[q.end : q.end + 1] not in OFF:
        return False
    at, edge = q.end + 1, case.grammar.plain_words("to-edge")
    while at < len(case.words) and at - q.end <= EDGE_WORDS and case.words[at] in edge:
        at += 1
    roots = case.within("dimension", at, at + 1)
    return at > q.end + 1 and any(c.name in FROM_ROOT for c in roots)


def _says_it_is(case: Case, q: Quantity) -> bool:
    """'It passed the eight, so eight it is': a number set before its 'it is'."""
    at = q.end + 2
    if q.kind != "quantity" or case.words[q.end : at] not in IT_IS:
        return False
    return case.words[at : at + 1] in ENDS_THERE or any(case.numbers(at, at + 1))


def _is_share(case: Case, q: Quantity) -> bool:
    """Whether a fraction is one of something named: 'a third of the meniscus', 'half the width'."""
    return q.kind == "fraction" and q.value is not None and case.words[q.end : q.end + 1] in (["of"], ["the"])


def as_share(case: Case, q: Quantity) -> Quantity:
    """'A third of the meniscus' as about 33 percent of it; any other quantity as it is."""
    if not _is_share(case, q) or q.value is None:
        return q
    return replace(q, value=float(round(100 * q.value)), unit="%", dimension="share", approximate=True)


def _taken_back(case: Case, q: Quantity) -> bool:
    """'At fifty, no, I ended up at fifty-five': a bare number that what follows takes back."""
    after = [i for i in range(q.end, min(q.end + 3, len(case.words))) if case.words[i][:1].isalnum()]
    if not after or case.words[after[0]] not in TAKES_BACK:
        return False
    behind = case.words[after[0] + 1 : after[0] + 2]
    return case.words[after[0]] != "no" or not behind or not behind[0].isalpha() or behind[0] in TALK  # 'no gap'


def _other_place(case: Case, q: Quantity) -> bool:
    """'The posterior tunnel was forty millimeters long, the anterior thirty nine': a place, a number, no more."""
    after = case.words[q.end : q.end + 1]
    if after and after[0][:1].isalnum() and after[0] not in CONNECTORS:
        return False
    place = q.start - 1 if case.words[q.start - 1] == "one" else q.start
    if not any(c.end == place for c in case.within(PLACES, max(0, place - 2), place)):
        return False
    sentence = case.sentence(q.start)
    return any(other.dimension == "length" for other in case.numbers(sentence.start, sentence.end))


def is_said_to_be_same(case: Case, q: Quantity) -> bool:
    """'A five millimeter tunnel behind. Front one, same, five': a bare number that says which size is the same."""
    lead = case.words[max(0, q.start - 2) : q.start]
    if "same" not in lead or lead[-1] not in {"same", ","}:
        return False
    start = case.note.segments.sentences[max(0, case.sentence(q.start).number - 1)].start
    return any(o.value == q.value and o.dimension == "length" for o in case.numbers(start, q.start))


def _at_the_other(case: Case, q: Quantity) -> bool:
    """'Eight millimeters at the top, eight and a half at the tibial end', 'nine for the big one, six for the small'.

    The second of two numbers told alike, each with what it is of behind it.
    """
    sentence = case.sentence(q.start)
    told = case.numbers(sentence.start, q.start)
    if not any(o.dimension == "length" or _at_an_end(case, o) for o in told):
        return False
    return _at_an_end(case, q)


def _at_an_end(case: Case, q: Quantity) -> bool:
    return case.words[q.end : q.end + 2] == ["for", "the"] or bool(case.within(ENDS, q.end, q.end + 1))


def _of_one_end(case: Case, q: Quantity) -> bool:
    """'Femoral end nine, tibial end nine and a half': right beside the one end, and the other is told near by."""
    ends = case.within(ENDS, max(0, q.start - APART), q.end + APART)
    beside = any(c.start == q.end or c.end in (q.start, q.start - (case.words[q.start - 1] == ",")) for c in ends)
    return beside and len({c.name for c in ends}) > 1


def _beside_its_time(case: Case, q: Quantity) -> bool:
    """'Tourniquet thirty seven minutes, three hundred.': a bare number, and no more, behind how long it was up."""
    before = next(case.numbers_before(q.start), None)
    if before is None or before.dimension != "time" or case.words[before.end : q.start] != [","]:
        return False
    after = case.words[q.end : q.end + 1]
    start = case.sentence(q.start).start
    timed = any(c.key in case.grammar.concepts_in("timed") for c in case.within("thing", start, before.start))
    return timed and (not after or not after[0][:1].isalnum())


def is_set_against(case: Case, q: Quantity, told: Quantity | None = None) -> bool:
    """'The book says ten millimeters, ours is nine': the number of this case, where another's was told before."""
    sentence = case.sentence(q.number_start)
    start = case.note.segments.sentences[max(0, sentence.number - 1)].start
    before = told or _bare_before(case, q) or case.sized_before(q.start)
    if before is None or before.number_start < start or case.assertion(q.number_start).mood != "performed":
        return False
    theirs = of_another(case, before.number_start) or read_off_scan(case, before) or said_by_bystander(case, before)
    if case.assertion(before.number_start).mood not in SET_AGAINST and not theirs:
        return False
    after = case.words[q.end : q.end + 1]
    bare = (
        q.dimension is None and after and after[0][:1].isalnum() and after[0] not in CONNECTORS | LASTS | {"on", "with"}
    )
    start = max(before.end, sentence.start)
    ours = case.within("this-case", start, q.number_start) or not OURS.isdisjoint(case.words[start : q.number_start])
    ours = ours or [c for c in case.within("thing", start, q.number_start) if c.name == "ruler"]
    ours = ours or case.within("this-case", q.end, case.clause(q.number_start).end)  # '..., three on this one'
    meant = case.assertion(before.number_start).mood in SET_AGAINST
    ours = ours or (meant and "it" in case.words[max(start, q.start - IT_WITHIN) : q.start])  # 'It was made ten.'
    return not bare and bool(ours)


def _bare_before(case: Case, q: Quantity) -> Quantity | None:
    """'A nine tunnel would do, | but I went with ten': the number before, in a sentence that only thinks of it."""
    before = next(case.numbers_before(q.start), None)
    if before is None or before.kind != "quantity" or before.dimension is not None:
        return None
    same = before.number_start >= case.sentence(q.number_start).start
    return before if same and case.assertion(before.number_start).mood in SET_AGAINST else None
