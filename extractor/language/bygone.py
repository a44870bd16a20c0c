"""Work that a few words beside it put in another time: what it left behind, how old the patient was, whose graft it is.

'Gone, thanks to a meniscectomy', 'a meniscectomy when she was fifteen', 'ACL graft, the one from his operation in 2019,
intact'. The words stand in the list `left-by`.
"""

from __future__ import annotations

from extractor.language.asserted import Assertion
from extractor.language.clause_words import CONNECTORS, PAUSES, SENTENCE_END
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.diagnosed import diagnosed
from extractor.language.numbers import atom_at
from extractor.language.verbs import verbal

REACH = 4
"""Words between what was left and the operation that left it: 'thanks to a total medial | meniscectomy'."""
WHEN = (["when", "he", "was"], ["when", "she", "was"], ["when", "they", "were"])
YOUNG = frozenset({"a", "an", "still", "young", "only", "just", "about", "around", "in", "at", "barely"})
AGED = (["aged"], ["age"], ["at"], ["at", "age"], ["at", "the", "age", "of"])
ENDS = SENTENCE_END | PAUSES | CONNECTORS | {"elsewhere", "already"}
AGE_OPENS = frozenset(way[0] for way in (*WHEN, *AGED))
AT_AGE = "cue:at-age"
AT_AGE_LIST = AT_AGE.partition(":")[0]
"""'Same knee at | sixteen', where 'the knee at sixteen' would be an angle."""
ON_WHOM = (["on", "her"], ["on", "him"], ["in", "her"], ["in", "him"])
AGES = range(8, 24)
"""Ages at which one was operated on long ago; 'osteotomy at thirty' may be of degrees."""
JOINING = frozenset({"and", "but", "so"})
ENDS |= {"has", "had", "still", "served", "holds", "held", "is", "gave", "gives"}
WHO = frozenset({"he", "she", "they", "his", "her", "a", "an", "the", "somebody", "someone", "some", "it"})
"""What may follow an age that opens: 'at fourteen somebody ...'; 'at fourteen millimeters' is none."""
SET_APART = frozenset({"from", "the", "that", "which", "put", "placed", "done", "made", "implanted", "reconstructed"})
"""What opens words that only tell whose or from when a thing is."""
DEFINING = frozenset({"the", "that"})
LOOKS = frozenset({"is", "'s", "looks", "appears", "seems", "remains", "still", "now", "it", "today"})
"""What may stand before what is found: '..., | still looks intact'."""
SOUND, LOST = "finding:intact", "finding:deficiency"
BEFORE_THEN = frozenset({"before", "at", "in", "during", "after"})
FOLLOWING = frozenset({"after", "following", "since", "post"})
DEEDS = frozenset({"action", "verb"})
TODAY = frozenset({"action", "verb", "finding"})
"""Lists of what is done today, and found today."""


def bygone(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """Give work of an earlier time, told by the words beside it, the mood of another time."""
    diagnosed(segments, inside, found, words)
    for sentence in segments.sentences:
        clauses = segments.clauses_of(sentence)
        aged = AT_AGE_LIST in sentence.lists or not AGE_OPENS.isdisjoint(sentence.said)
        for n, clause in enumerate(clauses):
            if found[clause.number].mood != "performed":
                continue
            if _only_left(clause):
                _set(found, clause, clause.start)
                continue
            behind = clauses[n + 1] if n + 1 < len(clauses) else None
            own = inside[clause.number]
            if behind is not None and _had_been(clause, behind, found, words):
                _set(found, clause, found[behind.number].cue)
                continue
            before = clauses[n - 1] if n else None
            deeds = [c for c in own if c.list in DEEDS] if aged and not DEEDS.isdisjoint(clause.lists) else []
            if any(_done_at_an_age(c, own, sentence.end, words) for c in deeds):
                _set(found, clause, clause.start)
                continue
            if "operation" not in clause.lists:
                continue
            work = [c for c in own if c.list == "operation"]
            if _lost_after(clause, clauses[:n], work, inside, words):
                _set(found, clause, clause.start)
                continue
            young = _aged_before(clause, before, work, words)
            if young or _left(work, own) or (aged and any(_at_an_age(words, c.end, sentence.end, own) for c in work)):
                _set(found, clause, clause.start)
            elif behind is not None and _set_apart(clause, behind, found, words):
                _set(found, clause, found[behind.number].cue)


def _had_been(clause: Span, behind: Span, found: list[Assertion], words: list[str]) -> bool:
    """'A rim of three had been measured | before the first operation': before a time past."""
    told = "been" in clause.said and any(
        words[i : i + 2] == ["had", "been"] for i in range(clause.start, clause.end - 1)
    )
    when = found[behind.number].mood == "history" and words[behind.start] in BEFORE_THEN and not verbal(words, behind)
    return told and when and words[clause.end - 1] not in PAUSES


def is_found_today(words: list[str], clause: Span, own: list[Concept]) -> bool:
    """'ACL graft, the one from 2019, | intact': what is found of it, behind its own pause, is found today."""
    told = [c for c in own if c.key == SOUND]
    return bool(told) and LOOKS.issuperset(words[clause.start : told[0].start]) and words[clause.start - 1] in PAUSES


def _only_left(clause: Span) -> bool:
    """'The old graft sits in a nine millimeter tunnel': nothing is done to what was left, and nothing found of it."""
    return "old-work" in clause.lists and clause.lists.isdisjoint(TODAY)


def _left(work: list[Concept], own: list[Concept]) -> bool:
    left = {c.end for c in own if c.list == "left-by"}
    return any(c.start - k in left for c in work for k in range(REACH + 1))


def _lost_after(
    clause: Span, before: tuple[Span, ...], work: list[Concept], inside: list[list[Concept]], words: list[str]
) -> bool:
    """'Absence of the meniscus, left knee, | following total meniscectomy': what left it so.

    `before` are the clauses of the sentence before it.
    """
    leads = [i for i in range(max(clause.start, work[0].start - REACH), work[0].start) if words[i] in FOLLOWING]
    if not leads:
        return False
    lost = inside[clause.number]
    if leads[-1] == clause.start:
        if verbal(words, clause):
            return False
        lost = [c for told in before for c in inside[told.number]]
    return any(c.key == LOST and c.start < leads[-1] for c in lost)


def _done_at_an_age(deed: Concept, own: list[Concept], end: int, words: list[str]) -> bool:
    """'It was resected | at age sixteen', '... | when he was fifteen': a deed told by the age of the patient.

    A bare 'at sixteen' may be where the graft was cut.
    """
    if not _past(words, deed):
        return False
    return (
        _at_an_age(words, deed.end, end, [c for c in own if c.key != AT_AGE])
        and words[deed.end] != "at"
        or (words[deed.end : deed.end + 2] in (["at", "age"], ["at", "the"]) and _at_an_age(words, deed.end, end, []))
    )


def _past(words: list[str], deed: Concept) -> bool:
    return any(w.endswith("ed") or w in {"cut", "taken", "out", "done"} for w in words[deed.start : deed.end])


def _at_an_age(words: list[str], at: int, end: int, own: list[Concept]) -> bool:
    """'... meniscectomy | when he was sixteen', 'aged nineteen', 'same knee at twelve', 'when she was in school'."""
    if words[at : at + 2] in ON_WHOM:
        at += 2
    at = _behind_knee(words, at, end)
    at += words[at : at + 1] == [","]
    behind = at + 3
    if words[at:behind] in WHEN and behind < end:
        return words[behind] in YOUNG or atom_at(words, behind) is not None
    knees = [c.end for c in own if c.key == AT_AGE and c.start == at]
    aged = [at + len(lead) for lead in AGED if words[at : at + len(lead)] == lead]
    return any(_is_age(words, i, end, alone=words[i - 1] == "at") for i in knees + aged)


def _behind_knee(words: list[str], at: int, end: int) -> int:
    """The token behind the knee that a work was done on: 'reconstruction | of the left knee | at nineteen'."""
    if words[at : at + 1] not in (["of"], ["on"], ["in"]) or words[at + 1 : at + 2] not in (["the"], ["his"], ["her"]):
        return at
    side = at + 2 + (words[at + 2 : at + 3] in (["left"], ["right"], ["other"]))
    return side + 1 if side < end and words[side] in {"knee", "side", "leg"} else at


def _aged_before(clause: Span, before: Span | None, work: list[Concept], words: list[str]) -> bool:
    """'At the age of seventeen | a meniscectomy was done', 'and when she was fifteen | it was resected'."""
    for lead in (clause, before):
        if lead is None:
            continue
        at = lead.start + (words[lead.start] in JOINING)
        opens = max((len(a) for a in (*AGED, *WHEN) if words[at : at + len(a)] == a), default=0)
        age = atom_at(words, at + opens) if opens and at + opens < lead.end else None
        if age is None or age.value not in AGES:
            continue
        follows = words[age.end] if age.end < len(words) else "."
        alone = follows in WHO or follows in ENDS or age.end == clause.start
        if (lead is clause and alone and age.end <= work[0].start) or (lead is before and age.end >= lead.end - 1):
            return True
    return False


def _is_age(words: list[str], at: int, end: int, *, alone: bool) -> bool:
    """Whether years stand here; after a mere 'at' nothing may follow that they would count."""
    age = atom_at(words, at) if at < end else None
    if age is None or not alone:
        return age is not None
    return age.value in AGES and (age.end >= end or words[age.end] in ENDS)


def _set_apart(clause: Span, behind: Span, found: list[Assertion], words: list[str]) -> bool:
    """Whether the clause behind a thing, between pauses and without a verb, only says from when it is."""
    if found[behind.number].mood != "history" or words[clause.end - 1] not in PAUSES or verbal(words, clause):
        return False
    opening = words[behind.start : behind.start + 2]
    defines = opening[0] not in DEFINING or opening[1:2] == ["one"]
    return opening[0] in SET_APART and defines


def _set(found: list[Assertion], clause: Span, cue: int | None) -> None:
    held = found[clause.number]
    found[clause.number] = Assertion("history", held.negated, held.ahead, cue)
