"""What an earlier operation was, told behind it: 'we did his right knee last season, | it was a root repair'.

A clause that only says what that was, what it got, or what those of then wrote of it, is of then as well. What was
found behind an injury ('he fell in June, | it was a radial tear') is found today.
"""

from __future__ import annotations

from extractor.language.another_case import POINTS_HERE
from extractor.language.asserted import Assertion
from extractor.language.clause_words import DETERMINERS, PAUSES
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.numbers import atom_at

OURS = frozenset({"i", "we"})
JOINING = frozenset({"and", "so", "where", "then"})
POINTING = frozenset({"it", "that", "this", "those", "these"})
"""Subjects of a clause that says what the operation was; 'that one', 'there it' as well."""
FURTHER = frozenset({"one", "time", "it", "there", "then", "just", "only", "also", "all"})
WAS = frozenset({"was", "were"})
NOUNS = (DETERMINERS - {"that", "this", "these", "those"}) | {"only", "just", "about"}
GOT = frozenset({"got", "needed", "received", "required", "took", "had"})
PERSONS = frozenset({"he", "she", "they", "it", "that", "this"})
AUTHORS = frozenset(
    {"they", "he", "she", "people", "colleague", "partner", "report", "note", "letter", "record", "records"}
)
TOLD = frozenset(
    "describe describes described mention mentions mentioned report reports reported note notes noted record records"
    " recorded wrote writes measured found saw state states stated said says call calls called".split()
)
WORK = frozenset({"operation", "action", "technique", "uninvolved", "set-aside"})
"""Lists of which one at least was told in the clause that opens the account, or `told-with`, what goes with it."""
OPERATED = frozenset({"operated", "surgery", "operation"})
BEEN_IN = (["been", "in"], ["was", "in"], ["were", "in"], ["been", "inside"], ["was", "inside"], ["went", "into"])
TURNS = frozenset({"anyway", "so", "but", "okay", "well", "anyhow"})
NOW = frozenset({"again", "today", "now", "is", "are", "'s"})
LEAD = 5
"""Words up to the verb, at most."""
APART = 2
"""Clauses between, at most: '..., | I have that report, | they described ...'."""


def what_it_was(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """Give what says of an earlier operation what it was the mood of another time, within its sentence."""
    for sentence in segments.sentences:
        then: Assertion | None = None
        since = 0
        before: Span | None = None
        for clause in segments.clauses_of(sentence):
            own, held, last, before = inside[clause.number], found[clause.number], before, clause
            if held.mood == "history":
                worked = _tells_of_work(own, words[clause.start : clause.end])
                if not worked and last is not None and clause.end - clause.start <= LEAD:
                    worked = _in_a_knee(inside[last.number], words[last.start : last.end])
                then, since = (held, 0) if worked or (then is not None) else (None, 0)
                continue
            since += 1
            if then is None or since > APART or any(_is_now(words, c, clause) for c in own):
                then = None
                continue
            if held.mood == "performed" and _says_what(words, clause):
                found[clause.number] = Assertion("history", held.negated, held.ahead, then.cue)
                since = 0


def _in_a_knee(own: list[Concept], said: list[str]) -> bool:
    """'I have been in his right knee as well, | four years back'."""
    return any(c.list == "joint" for c in own) and any(said[i : i + 2] in BEEN_IN for i in range(len(said)))


def _tells_of_work(own: list[Concept], said: list[str]) -> bool:
    lists = {c.list for c in own}
    if {"doing", "joint"} <= lists:
        return True  # 'We did the right knee last season'
    if _in_a_knee(own, said):
        return True
    return not WORK.isdisjoint(lists) or any(c.key == "told-with:work" for c in own) or not OPERATED.isdisjoint(said)


def _is_now(words: list[str], c: Concept, clause: Span) -> bool:
    """Whether a clause comes back to today; not 'that was a plug | anyway today | the rim ...', without pauses."""
    if c.end == clause.end and words[c.start - 1] in TURNS:
        return False
    return c.list == "now" or (c.list == "this-case" and words[c.start] in POINTS_HERE)


def _says_what(words: list[str], clause: Span) -> bool:
    """'It was a posterior horn', 'that one got four implants', 'they described a lesion'."""
    said = [w for w in words[clause.start : clause.end] if w not in PAUSES]
    said = said[1:] if said[:1] and said[0] in JOINING else said
    said = said[said[:2] == ["there", "it"] :]  # 'there was a gap' tells of today
    said = said[: next((i for i, w in enumerate(said) if w in TURNS), len(said))]
    if not said or not (NOW | OURS).isdisjoint(said):
        return False
    at = next((i for i, w in enumerate(said[:LEAD]) if w in WAS or w in GOT or w in TOLD), 0)
    lead, rest = said[:at], said[at + 1 :]
    if not lead or not rest:
        return False
    noun = rest[0] in NOUNS or atom_at(rest, 0) is not None
    if said[at] in WAS:
        return noun and lead[0] in POINTING and FURTHER.issuperset(lead[1:])
    if said[at] in TOLD and not AUTHORS.isdisjoint(lead) and (noun or rest[0] == "that"):
        return True
    return said[at] in GOT and noun and lead[0] in PERSONS and FURTHER.issuperset(lead[1:])
