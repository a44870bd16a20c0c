"""What others did, said or wanted: another surgeon, another patient, another time, whoever stands by today.

'Whoever operated on him rasped the rim', 'when we did his brother last week the graft was cut', 'the fellow wants a
clot'. The words stand in the lists `outsider`, `bystander`, `urging` and `aside`; this module says how far they reach.
"""

from __future__ import annotations

from extractor.language.asserted import CONTENT, Assertion
from extractor.language.clause_words import DETERMINERS, MONTHS, WEEKDAYS
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.numbers import atom_at
from extractor.language.verbs import verbal

OURS = frozenset({"i", "we", "my", "our", "ours", "mine"})
NOW = frozenset({"now", "this-case", "own-view"})
"""Lists whose words come back to this case."""
OPENS = 4
"""Tokens of a clause before whoever it tells of, at most: 'and then my old partner ...'."""
TIMES = frozenset({"ago", "last", "yesterday", "back", "earlier", "before"}) | WEEKDAYS | {
    "spring", "summer", "fall", "autumn", "winter", "school", "college", "university", "army", "abroad", "elsewhere",
    "child", "teenager", "previously", "once",
}  # fmt: skip
"""Words of a time or place past, which is no mere 'previous' of a thing: 'when the old screw was out'."""
PLACING = frozenset({"in", "on"})
"""Before kin they tell whose knee it was: 'in the twin sister', 'we did his brother'."""
BETWEEN = DETERMINERS | {"twin", "older", "younger", "little", "big"}
THERE = (["there"], ["and", "there"], ["over", "there"], ["and", "over"])
ALSO = (["and", "a"], ["and", "an"], ["and", "the"])
POINTS = (
    ["i", "mean"],
    ["i", "meant"],
    ["that", "'s"],
    ["that", "was"],
    ["that", "is"],
    ["it", "was"],
    ["this", "was"],
    ["which", "was"],
)
LINKS = frozenset({"but", "though", "although", "and", "well"})
SAYS = frozenset({"says", "said", "according", "per", "writes", "wrote", "states", "reads"})
SOURCES = frozenset({"outside-word", "outsider"})
TOLD = frozenset({"action", "operation", "technique", "device", "color", "dimension", "tie", "thing"})
YEAR = 4
OTHERS = frozenset({"outsider", "aside"})
DATES = MONTHS | WEEKDAYS
SPANS = (["years"], ["months"], ["weeks"], ["days"], ["operations"])
DEEDS = frozenset({"action", "operation", "technique", "device"})
WANTED = frozenset({"configuration", "brought", "form", "stitch-noun"})
ASKING = frozenset({"whether", "if", "that", "for", "to", "do", "should", "shall", "we", "i", "do n't"})
PASSIVE = frozenset({"was", "were", "is", "are", "be", "been", "being", "'s"})
"""Before a verb of asking: 'the patient was advised to keep the brace on' is an order of ours."""
FEW = 3
"""Words between a verb of asking and what is asked, at most: 'wants to know | whether'."""
SET_APART = 8
"""Tokens of a subject that stands before a pause, at most: 'My partner, by text message, | wants ...'."""


def others(
    segments: Segmentation,
    inside: list[list[Concept]],
    found: list[Assertion],
    words: list[str],
    operated: frozenset[str],
) -> None:
    """Give what others did the mood of another time, and what they only wanted that of a thing considered.

    `operated` are verbs of operating on somebody.
    """
    for sentence in segments.sentences:
        clauses = segments.clauses_of(sentence)
        for clause in clauses:
            if _of_others(clause, inside[clause.number], words, operated):
                _set(found, clause, "history", clause.start)
                _go_on(clause, clauses, inside, found, words)
        _placed_in_time(clauses, inside, found, words)
        _dated_behind(clauses, inside, found, words)
        _wanted(clauses, inside, found, words)


def _go_on(
    clause: Span, clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> None:
    """'The doctor | who saw him first had drained it | and flushed it': what has no subject of its own goes on."""
    for after in clauses[clause.number + 1 - clauses[0].number :]:
        at = after.start + (words[after.start] == "and")
        had = "had" in words[after.start : after.start + 3] and not DETERMINERS & set(
            words[after.start : after.start + 2]
        )
        goes_on = words[after.start] == "who" or had or (at > after.start and words[at].endswith("ed"))
        if not goes_on or _now(inside[after.number]) or OURS & after.said:
            return
        _set(found, after, "history", clause.start)


def _of_others(clause: Span, own: list[Concept], words: list[str], operated: frozenset[str]) -> bool:
    """Whether a clause opens with another surgeon, tells of a relative's knee, or of what was done in March."""
    if OTHERS.isdisjoint(clause.lists) and DATES.isdisjoint(clause.said):
        return False
    if any(c.list == "outsider" and c.start - clause.start <= OPENS for c in own):
        return True
    for kin in (c for c in own if c.key == "aside:kin"):
        at = kin.start - 1
        while at >= clause.start and words[at] in BETWEEN:
            at -= 1
        if at >= clause.start and words[at] in operated | PLACING:
            return True
    dated = range(clause.start + 1, clause.end - 1)
    return any(
        words[i] in {"in", "on", "last"}
        and words[i + 1] in MONTHS | WEEKDAYS
        and operated & set(words[clause.start : i])
        for i in dated
    )


def _placed_in_time(
    clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> None:
    """'When we did his brother last week | the graft was ...', '... in March, | and there we drilled'."""
    for clause, after in zip(clauses, clauses[1:], strict=False):
        here, there = found[clause.number], found[after.number]
        if here.mood != "history" or there.mood != "performed" or _now(inside[after.number]):
            continue
        cue = here.cue if here.cue is not None else clause.start
        said = words[clause.start : clause.end]
        when = said[0] == "when" and (TIMES & set(said) or any(c.key == "aside:kin" for c in inside[clause.number]))
        over_there = _points_there(words, after.start)
        told = after.lists
        listed = (
            words[after.start] == "and" and cue < clause.start and not verbal(words, clause) and "finding" not in told
        )
        object_too = words[after.start : after.start + 2] in ALSO and not verbal(words, after) and "finding" not in told
        listed = (listed or (object_too and bool(told & DEEDS))) and not OURS & after.said
        if when or over_there or listed:
            _set(found, after, "history", cue)


def _points_there(words: list[str], start: int) -> bool:
    """'And there we drilled', and not 'and there was a gap', which tells of what is here."""
    ends = next((start + n for n in (2, 1) if words[start : start + n] in THERE), None)
    return ends is not None and words[ends : ends + 1] not in (["is"], ["was"], ["were"], ["are"], ["'s"])


def _dated_behind(
    clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> None:
    """'He microfractured the condyle, | that's eleven years back': when it was, told behind the deed.

    So does '... was added, | but | that was at the first operation', and who says so: '..., | says the old report'.
    """
    told = [c for c in clauses if c.end - c.start > 1 or words[c.start] not in LINKS]
    for clause, after in zip(told, told[1:], strict=False):
        cues = after.lists
        points = words[after.start : after.start + 2] in POINTS and not cues & (CONTENT - {"operation"})
        points = points and not any(_small_number(words, i) for i in range(after.start, after.end))
        past = found[after.number].mood == "history"
        said = words[after.start] in SAYS and bool(cues & SOURCES or past) and words[after.start - 1] == ","
        if clause.lists & TOLD and ((points and past) or said):
            _set(found, clause, "history", after.start)


def _small_number(words: list[str], at: int) -> bool:
    """Whether a number stands here that is no year: '... that was six at the first operation' sets one beside."""
    atom = atom_at(words, at)
    if atom is not None and words[atom.end : atom.end + 1] in SPANS:
        return False
    return atom is not None and words[at] != "one" and not (words[at].isdigit() and len(words[at]) == YEAR)


def _wanted(clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'The rep suggests a ninth screw', 'the nurse asks | do I want the clot': what they want is not done by that."""
    for n, clause in enumerate(clauses):
        if "bystander" not in clause.lists:
            continue
        who = next((c for c in inside[clause.number] if c.list == "bystander"), None)
        if who is None or who.start - clause.start > OPENS:
            continue
        urged = next((c for c in inside[clause.number] if c.list == "urging" and c.start >= who.end), None)
        behind = clauses[n + 1 : n + 2]
        if urged is None and behind and not verbal(words, clause) and clause.end - clause.start <= SET_APART:
            urged = next(
                (c for c in inside[behind[0].number] if c.list == "urging" and c.start == behind[0].start), None
            )
            clause, behind = behind[0], clauses[n + 2 : n + 3]
        if urged is None or words[urged.start - 1] in PASSIVE:
            continue
        if "span" in clause.lists:
            continue  # 'Her husband wants her in a brace for six weeks': what is to come is ours to tell
        if any(c.list in DEEDS | WANTED and c.start >= urged.end for c in inside[clause.number]):
            _set(found, clause, "considered", urged.start)
        elif behind and _asked_there(clause, behind[0], urged, words) and not _now(inside[behind[0].number]):
            _set(found, clause, "considered", urged.start)
            _set(found, behind[0], "considered", urged.start)


def _asked_there(clause: Span, behind: Span, urged: Concept, words: list[str]) -> bool:
    """Whether what is wanted stands in the next clause: 'the fellow asks | whether we trim it'."""
    return words[behind.start] in ASKING and words[clause.end - 1].isalpha() and clause.end - urged.end <= FEW


def _now(own: list[Concept]) -> bool:
    return any(c.list in NOW for c in own)


def _set(found: list[Assertion], clause: Span, mood: str, cue: int | None) -> None:
    held = found[clause.number]
    if held.mood == "performed":
        found[clause.number] = Assertion(mood, held.negated, held.ahead, cue)
