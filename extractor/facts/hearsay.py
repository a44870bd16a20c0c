"""What was suspected, or told by others, against what was seen.

'The scan spoke of a torn ACL. It is intact.'

A finding told with a word of suspicion (list `suspected`, `doubted`) is one only where it is borne out. One told by
somebody else (`told`) is one unless what follows says otherwise, and so is any that is disproved in so many words.
"""

from __future__ import annotations

from dataclasses import dataclass

from extractor.facts.case import Case
from extractor.language.clause_words import PAUSES
from extractor.language.clauses import Span
from extractor.language.concepts import Concept

LIKE = frozenset({"like", "as"})
SCANNED, READ_OFF = "scan-word", "extrusion"
"""What tells of a scan, and what is a finding as read off one."""
FOLLOWING = 2
"""Sentences after the one of a finding in which it may be borne out or disproved."""
MOST_CLAUSES = 5
"""Clauses looked at for that, at most."""
LEAD = 5
"""Words of a clause before the finding's that may only say who told it: 'His therapist thought | the ACL was torn'."""
LEADS = 3
"""Words of one that may stand between: 'On the MR they wrote | that also | the lateral ligament is torn'."""
RELATIVE = frozenset({"that", "which"})
BARE = 6
"""Words of a denial that names nothing, at most."""
ELLIPTIC = frozenset({"not", "n't", "none", "there", "one", "so"})
"""Last words of a denial that leaves to what was told before what is denied: 'there is none', 'it is not'."""
SUBJECTS = frozenset({"it", "there", "i", "we", "that", "this", "they", "he", "she"})
NOUNS = frozenset({"thing", "device", "tool", "form"})
"""... and of which a 'none' behind it would speak."""
MORE = frozenset({"else", "other", "further", "more"})
FOR_WITHIN = 4
"""Words from a 'for' to what is looked for, at most: 'for a second loose body'."""
FRONTED = 9
"""Words from what is told first to the verb that it was looked for by, at most."""
SPEAKERS = frozenset({"i", "we"})
CLOSES = ([","], ["."], ["and"], ["but"], ["in"], ["without"], ["everywhere"])
"""Words behind 'looked for' that are no name of what was looked for."""
FIRM = frozenset({"disproved", "excluded"})
"""Words that deny what was told of as so as well."""
OTHER = frozenset({"finding", "structure", "operation", "technique"})
"""Lists of which a clause speaks of something else, where it does not name what was told of."""

UNSAYING = frozenset({"withdrawing", "unsaying", "waving-off"})
POINTED = frozenset({"it", "that", "this"})
ONLY = frozenset({"only", "just", "merely", "nothing", "really", "actually"})
NAMES = 4
"""Words of 'it was a fold', at least."""
ONES = frozenset(
    "one ones two three pair few large big small long short deep full partial bit mess pity surprise challenge problem"
    " nuisance shame disaster fresh old new clean clear classic classical nasty ugly typical real true complete proper"
    " nice good bad simple huge tiny tough hard soft loose fragment piece thing sign lot matter find sight finding"
    " reason stable unstable chronic acute recent degenerative traumatic same".split()
)
"""Behind 'it was a' these go on with what was told."""
TELLING = ("finding", "tear-pattern", "grade", "region", "compartment", "structure", "extent", "dimension")


@dataclass(frozen=True)
class Verdict:
    """What became of a finding told: whether it holds, whether it was denied, and the word that found all sound.

    `told` only: it holds because nothing said at once speaks against it, and yields to what is seen later.
    """

    holds: bool = True
    denied: bool = False
    sound: Concept | None = None
    told: bool = False


def verdict(case: Case, clause: Span, trigger: Concept) -> Verdict:
    """Whether what a clause tells as found was found."""
    doubted, told = _as_told(case, clause, trigger)
    at_hand = True
    for after in _after(case, clause, trigger):
        says = _says(case, after, trigger, told=doubted or told, at_hand=at_hand)
        at_hand = at_hand and (after.number == clause.number or _goes_on(case, after, trigger))
        if says == "so":
            return Verdict()
        if says:
            sound = case.within("finding", after.start, after.end) if says == "sound" else []
            return Verdict(holds=False, denied=True, sound=sound[0] if sound else None)
    return Verdict(holds=not doubted, told=told)


def _as_told(case: Case, clause: Span, trigger: Concept) -> tuple[bool, bool]:
    """Whether a clause, or a few words that lead up to it, doubt what it tells or say that another told it."""
    lead = case.note.segments.clauses[max(0, clause.number - 1)]
    if lead.number and lead.end - lead.start <= LEADS and "that" in case.words[lead.start : lead.end]:
        lead = case.note.segments.clauses[lead.number - 1]
    opens = lead.start >= case.sentence(clause.start).start and lead.end - lead.start <= LEAD
    start = lead.start if opens and not case.within("finding", lead.start, lead.end) else clause.start
    end = clause.end
    if end < case.sentence(clause.start).end and case.words[end] in RELATIVE and case.words[end - 1].isalpha():
        end = case.clause(end).end  # 'the tear | that the MRI shows'
    found = case.within("finding", start, end)
    names = {
        c.name
        for c in case.within("suspected", start, end)
        if not any(
            min(c.start, trigger.start) < f.start < max(c.start, trigger.start) and f.name != trigger.name
            for f in found
        )
    }
    scans = [c for c in case.within("cue", start, end) if c.name == SCANNED]
    compared = any(LIKE & set(case.words[c.start - 2 : c.start]) for c in scans)  # 'deficient just like the MRI said'
    scanned = trigger.name != READ_OFF and bool(scans) and not compared
    told = scanned or "told" in names or _looked_for(case, clause, trigger) or _asked(case, clause)
    if any(c.start > trigger.start for c in case.within("borne-out", clause.start, clause.end)):
        return False, told
    return scanned or "doubted" in names, told  # what a scan shows is a finding once it is seen


def _asked(case: Case, clause: Span) -> bool:
    """'The look around showed a loose body?': what is only asked holds unless the answer takes it back."""
    return case.words[case.sentence(clause.start).end - 1] == "?" or case.words[clause.end - 1] == "?"


def _looked_for(case: Case, clause: Span, trigger: Concept) -> bool:
    """'I searched the gutter for loose bodies', 'we probed for a tear': looked for, and as far as one knows found."""
    at = trigger.start - 1
    while at > clause.start and at > trigger.start - FOR_WITHIN and case.words[at] != "for":
        at -= 1
    looked = any(case.within(name, clause.start, at) for name in ("testing", "looking-over"))
    return (case.words[at] == "for" and looked) or _fronted(case, trigger)


def _fronted(case: Case, trigger: Concept) -> bool:
    """'A tear of the ACL I looked for and ...': what was looked for stands first."""
    end = min(trigger.end + FRONTED, case.sentence(trigger.start).end)
    looked = [c for name in ("testing", "looking-over") for c in case.within(name, trigger.end, end)]
    return any(
        case.words[c.end : c.end + 1] == ["for"]
        and case.words[c.end + 1 : c.end + 2] in CLOSES
        and not SPEAKERS.isdisjoint(case.words[trigger.end : c.start])
        for c in looked
    )


def _after(case: Case, clause: Span, trigger: Concept) -> list[Span]:
    """What is said next: the rest of the clause behind a finding, and the clauses after it."""
    segments = case.note.segments
    number = case.sentence(clause.start).number
    last = segments.sentences[min(number + FOLLOWING, len(segments.sentences) - 1)]
    clauses = segments.clauses[clause.number + 1 : clause.number + 1 + MOST_CLAUSES]
    rest = case.part(trigger.end, clause)
    return [rest, *(c for c in clauses if c.start < last.end)]


def _goes_on(case: Case, clause: Span, trigger: Concept) -> bool:
    """Whether a clause speaks of nothing else, so that a bare 'it is not' behind it still means what was told."""
    named = {c.name for c in case.within("structure", clause.start, clause.end)}
    lists = clause.lists - {"structure"}
    return not lists & {*OTHER, *NOUNS} and named <= _structures(case, trigger)


def _says(case: Case, after: Span, trigger: Concept, *, told: bool, at_hand: bool) -> str:
    """What a clause says of a finding told before: "so", "not so", "sound", or nothing ("")."""
    own = case.within("disproved", after.start, after.end)
    found = case.within("finding", after.start, after.end)
    assertion = case.note.assertions[after.number]
    if own and _is_of(case, after, own[0], trigger):
        near = case.sentence(after.start) == case.sentence(trigger.start)
        if told or (near and (own[0].name in FIRM or _says_no_more(case, after, own[0]))):
            return "not so"
    if not told:
        return ""
    if _taken_back(case, after) or _is_another(case, after):
        return "not so"
    if case.within("borne-out", after.start, after.end):
        return "not so" if assertion.negated else "so"
    if case.within("own-view", after.start, after.end) and after.start != trigger.end:
        view = case.part(after.start, case.sentence(after.start))
        seen = case.within("finding", view.start, view.end)
        if seen:
            return "so" if any(c.name == trigger.name for c in seen) and _same_place(case, view, trigger) else "not so"
    named = {c.name for c in case.within("structure", after.start, after.end)}
    same = at_hand if not named else bool(named & _structures(case, trigger))
    if after.start == trigger.end:
        return ""
    if sound := [c for c in found if c.name == "intact"]:
        other = any(t.name != trigger.name for c in sound for t in case.within("thing", c.start, c.end))
        return "sound" if same and not other else ""  # 'extruded, has no tear': another finding is not there
    lists = after.lists
    said = [w for w in case.words[after.start : after.end] if w[:1].isalpha()]
    short = 0 < len(said) <= BARE and said[-1] in ELLIPTIC
    points = short and MORE.isdisjoint(said) and not SUBJECTS.isdisjoint(said)
    bare = at_hand and points and assertion.negated and not lists & {*OTHER, "action", "doing"}
    return "not so" if bare else ""


def _taken_back(case: Case, after: Span) -> bool:
    """'I take that back', 'please delete that', 'then not at all'."""
    said = case.words[after.start : after.end]
    unsaid = any(c.name in UNSAYING for c in case.within("withdrawing", after.start, after.end))
    points = not POINTED.isdisjoint(said)
    return (unsaid and points) or [w for w in said if w.isalpha()][-3:] == ["not", "at", "all"]


def _is_another(case: Case, after: Span) -> bool:
    """'It was a tag of fat', 'that is only debris': what was told turns out to be a thing that is no finding."""
    said = [w for w in case.words[after.start : after.end] if w.isalpha() or w == "'s"]
    if said[:1] and said[0] in {"but", "and", "no"}:
        said = said[1:]
    if len(said) < NAMES or said[0] not in POINTED or said[1] not in {"was", "is", "'s"}:
        return False
    named = said[2 + (said[2] in ONLY) :]
    only, article = said[2] in ONLY, named[:1] and named[0] in {"a", "an", "some"}
    told = any(case.within(name, after.start, after.end) for name in TELLING)
    return bool(only or article) and ONES.isdisjoint(named) and not told and not case.numbers(after.start, after.end)


def _says_no_more(case: Case, after: Span, cue: Concept) -> bool:
    """'Loose body, | not found.': a clause that only denies what stands before its pause."""
    said = [i for i in range(after.start, after.end) if case.words[i].isalpha() or case.words[i] == "n't"]
    return case.words[after.start - 1] in PAUSES and all(cue.start <= i < cue.end for i in said)


def _is_of(case: Case, after: Span, cue: Concept, trigger: Concept) -> bool:
    """Whether what is disproved is the finding told before, and no other that the clause names."""
    found = case.within("finding", after.start, after.end)
    behind = any(c.start > cue.start and c.name != "intact" for c in found)
    other = any(c.start < cue.start and c.name not in (trigger.name, "intact") for c in found)
    return not behind and not other and _same_place(case, after, trigger)


def _same_place(case: Case, after: Span, trigger: Concept) -> bool:
    """Whether a clause names no structure but those told of with a finding."""
    return {c.name for c in case.within("structure", after.start, after.end)} <= _structures(case, trigger)


def _structures(case: Case, trigger: Concept) -> set[str]:
    """The structures named in the sentence of a finding."""
    sentence = case.sentence(trigger.start)
    return {c.name for c in case.within("structure", sentence.start, sentence.end)}
