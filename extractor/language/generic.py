"""What is true of everybody is told of nobody: 'with a rim of six nobody gets well', 'people with a torn ACL'.

The words stand in the list `general`: whom it is said of (`ones`), what 'you' must do (`must`), and whenever (`when`).
"""

from __future__ import annotations

from extractor.grammar.packs import Grammar
from extractor.language.asserted import Assertion
from extractor.language.clause_words import FINITE
from extractor.language.clauses import Span
from extractor.language.concepts import Concept
from extractor.language.numbers import atom_at
from extractor.language.policy import policy
from extractor.language.valued import fronted, is_valued
from extractor.language.verbs import PAST, verbal
from extractor.language.wished import wished

EVERYBODY = frozenset({"nobody", "everybody", "everyone", "anybody", "anyone", "somebody", "someone", "one"})
"""Subjects of a rule, before a verb in the present; 'no one' ends in its 'one'."""
RELATED = frozenset({"one", "ones", "thing", "part", "ligament", "corner", "spot", "place"})
"""'The one everybody forgets, | the PCL, | intact too': behind these it only tells which is meant."""
SOMEBODY = frozenset({"somebody", "someone"})
BY_HAND = frozenset(
    "catches holds pulls pushes hands brings takes bends flexes passes grabs presses turns lifts cuts keeps".split()
)
"""What somebody does who stands at the table: 'somebody catches the needles behind'."""
GENERAL_VERBS = frozenset({"should", "must", "is", "has", "does", "needs", "wants"})
INDEFINITE = frozenset({"a", "an", "any", "every", "such"})
COPULA = frozenset({"is", "are"})
VERDICTS = frozenset({"no", "nothing", "another", "rare", "uncommon", "rarely"})
"""What is said so of 'a rim of three' is said of any."""
WHATEVER = frozenset({"anything", "whatever", "everything", "anyone", "anybody"})
BOUNDS = frozenset({"inside", "outside", "under", "over", "beyond", "within", "below", "above", "past", "than", "to"})
JOINING = frozenset({"and", "but", "so", "because", "since", "as"})
WAS = frozenset({"was", "were", "had", "is", "are", "'s"})
TURNS = frozenset({"but", "so", "yet"})
OURS = frozenset({"i", "we", "he", "she"})
COMES_BACK = frozenset({"now", "this-case"})
AFTERWARDS = frozenset({"span", "weight-bearing-status"})
"""Lists whose words tell of the time after the operation."""
LIKING = (
    ["like"], ["love"], ["prefer"], ["'d", "love"], ["am", "fond", "of"], ["'m", "fond", "of"], ["aim", "for"],
    ["aim", "at"], ["shoot", "for"], ["strive", "for"], ["usually", "like"],
)  # fmt: skip
"""What one likes, behind 'I' or 'we'."""
LIKING_OPENS = frozenset(ways[0] for ways in LIKING)
SPEAKERS = frozenset({"i", "we"})
SETTING_OUT = (["and"], ["now"], ["well"], ["normally"], ["usually"], ["me"], ["honestly"])
NOT_LIKED = frozenset({"it", "that", "this", "how", "what", "them", "you"})
OWN = frozenset({"my", "our", "about", "around", "at", "roughly", "some"})
MEANT = frozenset({"conditional", "considered", "habit"})
CONTRAST = 2
"""Clauses behind a liking in which this case may be set against it."""
SET_AHEAD = frozenset({"for", "with", "without", "in", "below", "above", "beyond", "under", "over", "at", "given"})
"""What opens so before 'you need' is part of the rule: 'for a rim of six, | you need patience'."""


def generic(
    clauses: tuple[Span, ...],
    inside: list[list[Concept]],
    found: list[Assertion],
    words: list[str],
    grammar: Grammar,
) -> None:
    """Give what holds for everybody the mood of a habit, up to the words that come back to this case."""
    for n, clause in enumerate(clauses):
        names = {c.name for c in inside[clause.number] if c.list == "general"} if "general" in clause.lists else set()
        after = clauses[n + 1] if n + 1 < len(clauses) else None
        ruled = _of_everybody(clause, words) or _judged(clause, after, words) or _bounded(clause, after, words)
        ruled = ruled or (is_valued(clause, after, inside, words) and not _limits(inside[clause.number]))
        if after is not None and found[after.number].mood in MEANT and fronted(clause, after, words):
            _set(found, clause, after.start, found[after.number].mood)
            continue
        if _liked(clause, clauses[n + 1 : n + 1 + CONTRAST], inside, words):
            _set(found, clause, clause.start)
            continue
        if not names and not ruled:
            continue
        if COMES_BACK & clause.lists or words[clause.start] in TURNS:
            continue
        if names == {"must"} and not AFTERWARDS.isdisjoint(c.list for c in inside[clause.number]):
            continue  # 'you must keep the brace on for four weeks' is told to whoever cares for the patient
        _set(found, clause, clause.start)
        before = clauses[n - 1] if n else None
        if before is not None and words[before.start] in SET_AHEAD and not verbal(words, before):
            _set(found, before, clause.start)
        for behind in clauses[n + 1 :]:
            first = words[behind.start]
            whenever = "when" in names and PAST.isdisjoint(behind.said)
            if COMES_BACK & behind.lists or first in TURNS:
                break
            hangs = behind.number == clause.number + 1 and (
                first == "that" or ("ones" in names and not verbal(words, clause) and words[clause.end - 1].isalnum())
            )  # 'it is a myth | that ...', 'patients with five | all-inside stitches are excluded'
            if not whenever and not hangs and (verbal(words, behind) or first in OURS):
                break
            _set(found, behind, clause.start)
    policy(clauses, inside, found, words, grammar)
    wished(clauses, inside, found, words, grammar)


def _limits(own: list[Concept]) -> bool:
    """'Flexion not to exceed sixty degrees': what holds for this patient afterwards."""
    bent = any(c.key == "dimension:flexion" for c in own)
    return any(c.list in AFTERWARDS for c in own) or (bent and any(c.name == "flexion-limit" for c in own))


def _of_everybody(clause: Span, words: list[str]) -> bool:
    """'... nobody gets well', 'everybody wants a rim of three': one of them, and what he does as a rule."""
    if EVERYBODY.isdisjoint(clause.said):
        return False
    for i in range(clause.start, clause.end - 1):
        verb = words[i + 1]
        known = words[i] in EVERYBODY and (words[i] != "one" or words[i - 1] == "no") and words[i - 1] not in RELATED
        known = known and not (words[i] in SOMEBODY and verb in BY_HAND)
        if known and (verb in GENERAL_VERBS or (verb.endswith("s") and verb not in FINITE and verb.isalpha())):
            return True
    return False


def _judged(clause: Span, after: Span | None, words: list[str]) -> bool:
    """'A rim of six is no contraindication', 'a torn ACL is | nothing to be afraid of'."""
    if words[clause.start] not in INDEFINITE:
        return False
    at = next((i for i in range(clause.start + 1, clause.end) if words[i] in COPULA), None)
    if at is None:
        return False
    if at + 1 < clause.end:
        return words[at + 1] in VERDICTS
    return after is not None and words[after.start] in VERDICTS


def _bounded(clause: Span, after: Span | None, words: list[str]) -> bool:
    """'Anything inside four millimeters | I sew', 'what lies within four heals': up to where one does it, as a rule.

    Not what was done or seen so: 'everything beyond four millimeters | we trimmed'.
    """
    if BOUNDS.isdisjoint(clause.said):
        return False
    at = clause.start + (words[clause.start] in JOINING)
    opens = words[at : at + 2]
    lies = opens[:1] == ["what"] and opens[-1].endswith("s")
    if WHATEVER.isdisjoint(opens[:1]) and not lies:
        return False
    said = words[at : clause.end] + (words[after.start : after.end] if after is not None else [])
    if any(w in PAST or w in WAS or w.endswith("ed") for w in said):
        return False
    return any(
        words[i] in BOUNDS and any(atom_at(words, k) is not None for k in (i + 1, i + 2) if k < clause.end)
        for i in range(at + 1, clause.end)
    )


def _liked(clause: Span, behind: tuple[Span, ...], inside: list[list[Concept]], words: list[str]) -> bool:
    """'I like four millimeters between stitches', 'I like the guide at fifty | but had to go to sixty': as a rule.

    What is told of a thing of this case ('I like the fit at thirty degrees') is none, unless this case is set against
    it.
    """
    if SPEAKERS.isdisjoint(clause.said) or LIKING_OPENS.isdisjoint(clause.said):
        return False
    opens = [w for w in words[clause.start : clause.end] if w[:1].isalpha() or w[:1] == "'"]
    opens = opens[opens[:1] in SETTING_OUT :]
    if SPEAKERS.isdisjoint(opens[:1]):
        return False
    at = clause.start + words[clause.start : clause.end].index(opens[0]) + 1
    led = next((ways for ways in LIKING if words[at : at + len(ways)] == ways), None)
    if led is None:
        return False
    wish = at + len(led)
    sized = any(atom_at(words, i) is not None for i in range(wish, clause.end))
    if not sized or words[wish] in NOT_LIKED:
        return False
    if words[wish] in INDEFINITE | OWN or atom_at(words, wish) is not None:
        return True
    return any(
        words[c.start] in TURNS | {"these", "those", "though"} or COMES_BACK & {k.list for k in inside[c.number]}
        for c in behind
    )


def _set(found: list[Assertion], clause: Span, cue: int, mood: str = "habit") -> None:
    held = found[clause.number]
    if held.mood == "performed":
        found[clause.number] = Assertion(mood, held.negated, held.ahead, cue)
