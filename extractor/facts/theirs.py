"""Whose number it is: of another time or case, off a label, guessed or wanted by a bystander, told by who was away."""

from __future__ import annotations

from extractor.facts.case import UNREAL, Case
from extractor.facts.time_lost import took_else
from extractor.facts.told_by import told_by_others
from extractor.language.clause_words import FINITE
from extractor.language.clauses import Span
from extractor.language.concepts import Concept
from extractor.language.quantities import Quantity

CHARTS = frozenset({"chart", "record", "sheet"})
ASIDE = 7
"""Tokens, at most, of what only says where a number beside it comes from."""
SET_BESIDE = frozenset("as like unlike despite contrary against although though whatever other".split())
"""What opens so before a number only sets it beside the words of others: 'As his surgeon feared, it is nine'."""
OWNED = frozenset({"the", "his", "her", "their", "those"})
OURS = frozenset({"i", "we"})
SAID = frozenset({"said", "says", "thought", "thinks", "believed", "believes", "felt", "heard", "called"})
"""Verbs by which a bystander tells a number that is only theirs where it was measured otherwise."""
SOMEBODY = frozenset({"somebody", "someone", "they", "everybody", "everyone", "he", "she", "people"})
"""Who may guess beside those of the list `bystander`; in 'an estimated blood loss' nobody does."""
CREDITING = frozenset({"says", "said", "say", "per", "according", "reads", "wrote", "writes"})
CREDITED_IN = 4
LED_BY = 6
"""Tokens, at most, of a clause before a number's that tells whose guess it is: 'The rep swore | it was six'."""
SAYS = frozenset(
    "gives gave says said reads read lists listed has had shows showed states stated quotes quoted names named puts put"
    " calls called measures measured promises promised claims claimed writes wrote records recorded tells told speaks"
    " spoke".split()
)
"""Verbs by which what came with a thing tells its size."""
SAYS_IN = 5
"""Tokens from the paper to such a verb, at most: 'the sheet that came with it says'."""
STATED = frozenset({"is", "was", "has", "had"})
SOURCE = frozenset({"on", "by", "per"})
INSTEAD = (["instead", "of"], ["rather", "than"])
IN_PLACE = (["in", "place", "of"], ["in", "lieu", "of"])
LEADS_ELSE = frozenset(way[0] for way in (*INSTEAD, *IN_PLACE))
GUESSES = frozenset({"own-guess", "guessing"})
INSTEAD_IN = 7
"""Tokens, at most, from such words to the size that was not it."""


def of_another(case: Case, token: int) -> bool:
    """Whether a number is of another time, case or habit, only stands on a label, or is told by who was not there."""
    if case.assertion(token).mood in UNREAL or any(
        not is_set_beside(case, c, token) for c in said_beside(case, "label", token)
    ):
        return True
    clause = case.clause(token).start
    if any(FINITE.isdisjoint(case.words[c.end : token]) for c in case.within("asked-for", clause, token)):
        return True  # 'I asked for a graft of 22'
    if _guessed(case, token) or _urged(case, token) or _compared_with(case, token) or took_else(case, token):
        return True
    if _replaced(case, token) or _on_paper(case, token) or told_by_others(case, token, _whose(case, token)):
        return True
    told = [
        c
        for c in said_beside(case, "outside-word", token)
        if (c.start < token or _credited(case, c)) and not is_set_beside(case, c, token)
    ]
    told = [c for c in told if not _of_today(case, c, token)]
    return bool(told) and not any(case.within(name, told[-1].end, token) for name in ("now", "own-view"))


def _on_paper(case: Case, token: int) -> bool:
    """'The donor card gave thirty-three', 'by the certificate it is thirty': a length as a thing's papers have it."""
    if "paper" not in case.note.segments.lists:
        return False
    q, clause, words = case.number_over(token), case.clause(token), case.words
    if q is None or q.dimension not in {"length", None}:
        return False
    for paper in case.within("paper", clause.start, clause.end):
        if paper.start > token:
            if _led_by_source(words, paper.start) and FINITE.isdisjoint(words[q.end : paper.start]):
                return True
            continue
        between = words[paper.end : token]
        if not SAYS.isdisjoint(between[:SAYS_IN]) and not case.within("this-case", paper.end, token):
            return True
    ahead = [p for p in said_beside(case, "paper", token) if p.start < token and _led_by_source(words, p.start)]
    return any((FINITE - STATED).isdisjoint(words[p.end : token]) for p in ahead)


def _led_by_source(words: list[str], at: int) -> bool:
    """Whether what something is taken from opens so: 'on | the card', 'according to | the bank'."""
    while at and words[at - 1] in OWNED:
        at -= 1
    return bool(at) and (words[at - 1] in SOURCE or words[at - 2 : at] == ["according", "to"])


def _replaced(case: Case, token: int) -> bool:
    """'Instead of a tunnel of nine | we made ten', 'rather than the ten on the card'."""
    clause, words = case.clause(token), case.words
    if LEADS_ELSE.isdisjoint(clause.said):
        return False
    start = max(clause.start, token - INSTEAD_IN)
    at = next((i for i in range(token - 2, start - 1, -1) if words[i : i + 2] in INSTEAD), None)
    at = next((i for i in range(token - 3, start - 1, -1) if words[i : i + 3] in IN_PLACE), at)
    return at is not None and not case.finals(at, token) and FINITE.isdisjoint(words[at:token])


def _of_today(case: Case, source: Concept, token: int) -> bool:
    """'The chart has sixty-eight minutes': how long a tourniquet was up is charted as it happens."""
    q = case.number_over(token)
    charted = case.words[source.end - 1] in CHARTS and source.end - source.start == 1
    return charted and q is not None and q.dimension in {"time", "volume"}


def _credited(case: Case, source: Concept) -> bool:
    """'... half of the meniscus, | says the letter': told behind its number, and of nothing else."""
    clause = case.clause(source.start)
    return case.words[clause.start] in CREDITING and source.start - clause.start <= CREDITED_IN


def said_beside(case: Case, list_name: str, token: int) -> list[Concept]:
    """Concepts of a list in a number's clause, or in a few words beside it: 'According to the label | it is nine'."""
    if list_name not in case.note.segments.lists:
        return []
    clauses = case.note.segments.clauses
    clause, sentence = case.clause(token), case.sentence(token)
    found = case.within(list_name, clause.start, clause.end)
    for beside in clauses[max(0, clause.number - 1) : clause.number + 2]:
        near = sentence.start <= beside.start < sentence.end and beside.end - beside.start <= ASIDE
        numbers = case.finals(beside.start, beside.end)
        listed = beside.start < clause.start and FINITE.isdisjoint(clause.said)
        if near and beside != clause and (not numbers or (listed and case.number_over(clause.start))):
            found += case.within(list_name, beside.start, beside.end)
    return found


def _compared_with(case: Case, token: int) -> bool:
    """'... compared with six millimeters on the other side', 'less than the six in the book': another's, told after."""
    q, words = case.number_over(token), case.words
    at = (q.start if q else token) - 1
    owned = at >= 0 and words[at] in OWNED
    while at > 0 and words[at] in OWNED | {"about"}:
        at -= 1
    if at <= case.clause(token).start:
        return False
    pair = words[at - 1 : at + 1] in (["compared", "with"], ["compared", "to"], ["opposed", "to"])
    return pair or words[at] == "versus" or (words[at] in {"than", "against"} and owned)


def is_set_beside(case: Case, source: Concept, token: int) -> bool:
    """'As the referring surgeon had suspected, | the rim was three': told by a clause of its own, and borne out."""
    clause = case.clause(source.start)
    if clause == case.clause(token):
        return False
    return not SET_BESIDE.isdisjoint(case.words[max(0, clause.start - 1) : clause.start + 1])


def _whose(case: Case, token: int) -> list[Span]:
    """The clause of a number, and the few words before it on which it may hang."""
    clause = case.clause(token)
    before = case.note.segments.clauses[max(0, clause.number - 1)]
    hangs = before != clause and before.end - before.start <= LED_BY and case.words[before.end - 1].isalpha()
    hangs = hangs and before.start >= case.sentence(token).start and not case.within("thing", before.start, before.end)
    return [before, clause] if hangs else [clause]


def _guessed(case: Case, token: int) -> bool:
    """'The student estimated six millimeters for the rim', 'the rep swore | it was six', 'my guess was six'."""
    if GUESSES.isdisjoint(case.note.segments.lists):
        return False
    q = case.number_over(token)
    if q is not None and q.dimension == "volume":
        return False  # 'anesthesia estimated the blood loss at fifty': nobody measures it otherwise
    before = case.note.segments.clauses[max(0, case.clause(token).number - 1)]
    sworn = any(c.end == before.end for c in case.within("own-guess", before.start, before.end))
    if sworn and before.start >= case.sentence(token).start:
        return True  # 'Tourniquet, I would have sworn | it was under two hours'
    for clause in _whose(case, token):
        if any(c.start < token for c in case.within("own-guess", clause.start, clause.end)):
            return not case.within("this-case", clause.start, token)
        guess = next((c for c in case.within("guessing", clause.start, clause.end) if c.start < token), None)
        who = guess is not None and (
            case.within("bystander", clause.start, guess.start)
            or not SOMEBODY.isdisjoint(case.words[clause.start : guess.start])
        )
        if guess is not None and who and OURS.isdisjoint(case.words[max(clause.start, guess.start - 2) : guess.start]):
            return guess.start > clause.start and not case.within("this-case", guess.end, token)
    return False


def _urged(case: Case, token: int) -> bool:
    """'The junior suggested a rim of six millimeters': what a bystander wants, and nobody says was done."""
    clause = case.clause(token)
    if "urging" not in clause.lists:
        return False
    who = next((c for c in case.within("bystander", clause.start, token)), None)
    urged = case.within("urging", who.end, token) if who else []
    asks = bool(urged) and FINITE.isdisjoint(case.words[urged[0].end : token])
    return asks and case.words[urged[0].start - 1] not in FINITE


def said_by_bystander(case: Case, q: Quantity) -> bool:
    """'The nurse said six millimeters for the rim': theirs, unless nothing else was measured."""
    token = q.number_start
    if "bystander" not in case.note.segments.lists:
        return False
    for clause in _whose(case, token):
        who = next((c for c in case.within("bystander", clause.start, token)), None)
        verbs = [i for i in range(who.end, min(clause.end, token)) if case.words[i] in SAID] if who else []
        if verbs and OURS.isdisjoint(case.words[clause.start : verbs[0]]):
            return not case.within("this-case", verbs[0], token)
    return False
