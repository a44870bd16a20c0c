"""Devices that were only at hand, against those that were used: 'Three anchors on the table, one anchor used'.

A device said with a word of being offered, asked for or laid out (list `at-hand`) was used as far as one knows, unless
another of its kind is told as used: then it was that one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from extractor.facts.case import Case
from extractor.language.clause_words import DETERMINERS
from extractor.language.concepts import Concept
from extractor.language.quantities import Quantity

ONES = frozenset({"one", "ones"})
ANOTHER = frozenset({
    "another", "second", "new", "other", "different", "next", "larger", "bigger", "smaller", "longer", "shorter",
    "thicker", "thinner", "wider", "narrower",
})  # fmt: skip
LEADS = frozenset({",", "of", "measuring", "with", "a", "an", "size", "at", "that", "is", "was"})
OTHER_WITHIN = 5
"""Words from 'a second one' to its size."""
OTHERS = 2
"""Sentences before one in which the device was named that 'a nine millimeter one' stands for."""
PLACE_WITHIN = 3
"""Short clauses behind a device that may tell where it sits: 'a screw, | eight millimeters, | femoral side'."""
FRAGMENT = 5
"""Tokens of such a clause, at most."""
ADJACENT = 4
"""Tokens before a device in which its own size is said."""
CHANGED = frozenset({"was", "were", "replaced", "exchanged", "swapped", "changed"})
WHERE = frozenset({"on", "in", "from"})
LISTING = frozenset({",", "and", "or"})
AGAIN_WITHIN = 2
"""Sentences from a device that was brought to where it is told that it was not used, at most."""
MEANS = frozenset({"with", "by", "using", "over", "on"})
"""Before a device these tell that it was used: 'fixed with a screw'."""
REFUSALS = frozenset({"unnecessary", "deferred", "refused"})
WIDEST = 60
"""Tokens from the first part of a product to its last, at most."""
SOLE = frozenset({"single", "sole", "lone", "solitary"})


@dataclass(frozen=True)
class Said:
    """One telling of a device, with its sizes and number."""

    device: Concept
    sizes: list[Quantity]
    count: int | None


def used(case: Case, said: Sequence[Said]) -> list[Said]:
    """The tellings of devices used: without those only at hand where another of their kind, or size, was used."""
    said = [s for s in said if not _stayed_away(case, s)]
    waiting = [s for s in said if _at_hand(case, s) and not _put_to_use(case, s, said)]
    firm = {s.device.name for s in said if s not in waiting and (s.sizes or s.count)}
    return [s for s in said if s not in waiting or s.device.name not in firm]


def _stayed_away(case: Case, said: Said) -> bool:
    """'A screw had been held ready; it was firm, and the screw stayed in its box': told again as not used.

    It is 'the' screw and no more, near behind, and what refuses it tells of using it: not 'the screw did not cut'.
    """
    again = next((c for c in case.by_list[said.device.list] if c.start > said.device.start), None)
    if again is None or again.name != said.device.name or case.words[again.start - 1] != "the":
        return False
    if case.sentence(again.start).number - case.sentence(said.device.start).number > AGAIN_WITHIN:
        return False
    if case.words[_lead(case, said) - 1] in MEANS or _put_to_use(case, said, [said, Said(again, [], None)]):
        return False
    clause = case.clause(again.start)
    refused = any(case.within(name, clause.start, clause.end) for name in ("wasted", "doing", "put-to-use"))
    refused = refused or any(c.name in REFUSALS for c in case.within("negation", clause.start, clause.end))
    return refused and case.assertion(again.start).declines(again.start)


def _lead(case: Case, said: Said) -> int:
    """Where what is said of a device in front of it begins: 'with | a seven by twenty screw'."""
    start = min([said.device.start, *(q.start for q in said.sizes)])
    while start and case.words[start - 1] in DETERMINERS:
        start -= 1
    return start


def _put_to_use(case: Case, said: Said, told: Sequence[Said]) -> bool:
    """Whether its sentence goes on to tell that the device went in: 'a screw was opened and inserted'."""
    end = case.sentence(said.device.start).end
    others = (s.device for s in told if s.device.name == said.device.name)
    stop = min((c.start for c in others if said.device.end <= c.start < end), default=end)
    return bool(case.within("put-to-use", said.device.end, stop))


def _at_hand(case: Case, said: Said) -> bool:
    """Whether a word of being at hand stands by a device: ahead of it ('offered a screw') or behind ('on the tray')."""
    start = min([said.device.start, *(q.start for q in said.sizes)])
    clause, sentence = case.clause(said.device.start), case.sentence(said.device.start)
    for cue in case.within("at-hand", sentence.start, clause.end):
        ahead = cue.end <= start
        low, high = (cue.end, start) if ahead else (said.device.end, cue.start)
        if any(name for name in ("device", "tool") for _ in case.within(name, low, high)) or low > high:
            continue
        if ahead and case.words[cue.start] in CHANGED:
            continue  # '... stripped and was changed for a nine by thirty': what it was changed for was used
        if ahead and case.words[cue.start] in WHERE and _named(case, clause.start, cue.start):
            continue  # 'of the anchors on the table | two anchors were placed'
        if case.clause(cue.start) == clause or _only_counts(case, low, high):
            return True
    return False


def _named(case: Case, start: int, end: int) -> bool:
    return any(case.within(name, start, end) for name in ("device", "tool"))


def _only_counts(case: Case, start: int, end: int) -> bool:
    """Whether nothing but numbers of a list stands between: 'offered seven, | eight and nine millimeter screws'."""
    inside = {i for q in case.numbers(start, end) for i in range(q.start, q.end)}
    return all(i in inside or case.words[i] in LISTING for i in range(start, end))


def ones(case: Case, told: Sequence[Concept]) -> list[Concept]:
    """'Seven was too thick, an eight millimeter one went in': sizes of another of the device last named."""
    found = []
    for q in case.note.quantities:
        behind = case.words[q.end : q.end + 1]
        if _stands_for(case, q):
            found += _sized_pronoun(case, told, q)
            continue
        another = q.dimension == "length" and _another(case, q)
        if q.dimension != "length" or not behind or (behind[0] not in ONES and not another):
            continue
        sentence = case.sentence(q.start)
        floor = case.note.segments.sentences[max(0, sentence.number - OTHERS)].start
        named = [c for c in told if floor <= c.start < q.start]
        last = max(named, key=lambda c: c.start, default=None)
        if last is None or _thing(case, last.end, q.start):
            continue
        if _is_another_one(case, last):
            found.append(Concept(last.list, last.name, q.end, q.end + 1))
        elif any(o.dimension == "length" for o in case.numbers(max(floor, last.start - ADJACENT), last.start)):
            found.append(Concept(last.list, last.name, q.end, q.end + 1))
    return found


def _is_another_one(case: Case, device: Concept) -> bool:
    """'A bigger cannula lay beside me; | the eight millimeter one did', 'no second screw': none that was used."""
    other = not ANOTHER.isdisjoint(case.words[max(0, device.start - 1) : device.start])
    assertion = case.assertion(device.start)
    return other and (assertion.mood != "performed" or assertion.declines(device.start) or _lay_there(case, device))


def _lay_there(case: Case, device: Concept) -> bool:
    clause = case.clause(device.start)
    told = ("at-hand", "in-the-room", "made-ready")
    return (
        any(case.within(name, device.end, clause.end) for name in told) or "lay" in case.words[device.end : clause.end]
    )


def _thing(case: Case, start: int, end: int) -> bool:
    """Whether another thing is named, beside 'a second one'."""
    return any(case.words[c.end - 1] not in ONES for c in case.within("thing", start, end))


def _another(case: Case, q: Quantity) -> bool:
    """'It fell on the floor, a second one, nine millimeters, was used': a size told of another one."""
    before = [w for w in case.words[max(0, q.start - OTHER_WITHIN) : q.start] if w not in LEADS]
    return before[-1:] == ["one"] and before[-2:-1] != [] and before[-2] in ANOTHER


def _stands_for(case: Case, q: Quantity) -> bool:
    """'... so in went a nine by twenty-five': an 'A by B' with an article that is all that is said of the thing."""
    if q.product is None or q.part != 0 or case.words[q.start - 1 : q.start] not in (["a"], ["an"]):
        return False
    last = _last_part(case, q)
    return last.dimension in (None, "length") and case.words[last.end : last.end + 1] in ([], [","], ["."], [";"])


def _last_part(case: Case, q: Quantity) -> Quantity:
    """The last part of a product; its parts stand one behind the other."""
    behind = case.numbers(q.start, q.end + WIDEST)
    return [p for p in behind if p.product == q.product][-1]


def _sized_pronoun(case: Case, told: Sequence[Concept], q: Quantity) -> list[Concept]:
    """The device last named in the sentence that such a size is of, as a concept right behind the size."""
    named = [c for c in told if case.sentence(q.start).start <= c.start < q.start]
    last = max(named, key=lambda c: c.start, default=None)
    end = _last_part(case, q).end
    if last is None or case.within("thing", last.end, q.start) or end >= len(case.words):
        return []
    return [Concept(last.list, last.name, end, end + 1)]


def place(case: Case, device: Concept, sizes: Sequence[Quantity]) -> Concept | None:
    """Where a device sits: said in its clause or its size's, as their heading, or in short clauses behind it.

    Those name nothing else.
    """
    clause = case.clause(device.start)
    found = case.nearest("bone", device.start, clause.start, clause.end)
    clauses = case.note.segments.clauses
    if not found and sizes and case.clause(sizes[-1].start) != clause:
        own = case.clause(sizes[-1].start)
        found = case.nearest("bone", sizes[-1].start, own.start, own.end)
    if not found and clause.number and clause.start > case.sentence(clause.start).start:
        head = clauses[clause.number - 1]
        heads = case.words[head.end - 1] == ":" and head.end - head.start <= FRAGMENT
        found = case.nearest("bone", head.end, head.start, head.end) if heads else None
    for after in clauses[clause.number + 1 : clause.number + 1 + PLACE_WITHIN]:
        lists = after.lists
        apart = case.sentence(after.start) != case.sentence(device.start)
        if found or apart or after.end - after.start > FRAGMENT or lists & {"device", "tool", "thing", "tissue"}:
            break
        found = case.nearest("bone", after.start, after.start, after.end)
    return found
