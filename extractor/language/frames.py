"""What a heading or a few words say of all that follows them: whose case it was, when, or that it was only meant.

'What they did in March: two portals, synovium shaved', 'For the students: the root is drilled'. The moods are those
of the grammar's lists; this module says how far such a frame reaches.
"""

from __future__ import annotations

from extractor.language.asserted import CONTENT, Assertion
from extractor.language.clause_words import FINITE, PAUSES, UNREAL
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.verbs import PAST, verbal

FRAMES = frozenset({"history", "habit", "planned"})
WORK = frozenset({"action", "operation", "technique", "device", "heading"})
"""Lists of which a frame itself says nothing; a heading of a report has its own meaning."""
TURNS = frozenset({"but", "so"})
JOINS = frozenset({"and", "where", "there", "then"})
AFTER = frozenset({"after", "since", "during", "until"})
POINTING = frozenset({"there", "here", "back", "it", "that", "this"})
"""Words that may lead in when it was: 'He had a microfracture | there three years back'."""
PATIENT = (["her"], ["him"])
UNDERGONE = (
    [],
    *([w] for w in ("were", "are", "have", "had", "underwent", "received", "came", "presented", "elected")),
)
BEEN = frozenset({"was", "were", "had", "used"})
BEING = frozenset({"is", "are", "has", "have", "'s", "now", "today"})
SEEN = frozenset({"finding", "grade-word", "action", "technique"})
"""Lists of what is told today of another time: 'The meniscus was deficient after the last operation'."""
OTHERS = frozenset({"they"})
PREDICATES = frozenset({"is", "was", "would", "will", "can", "could", "may", "might", "remains", "stays"})
MEANT = frozenset({"considered", "conditional", "planned"})
HUNG_ON = 2
"""Clauses behind a predicate that may hang on it: '... | is a thing | we can do later | if she has pain'."""
STATED = frozenset({"structure", "thing"})
WARNING = (["and", "you", "will"], ["and", "you", "'ll"], ["and", "you", "'re"], ["and", "you", "are"])
"""What opens so tells what comes of the words before it, done or not: 'Over two hours, | and you will regret it'."""
OURS = frozenset({"i", "we"})
COMES_BACK = frozenset({"now", "this-case"})
TO_COME = (["'ll"], ["will"], ["would"])
FRAME = 8
SIZED = (["that", "was"], ["that", "were"], ["that", "measured"])
"""What opens a mere size of something told of another time: '... years ago through tunnels | that were nine wide'."""
HUNG = {"that": ("planned", "considered", "habit"), "when": ("history",), "where": ("history",)}
"""Moods of a clause that hold for what hangs on it by this word."""
ACTING = frozenset({"action", "tie", "technique", "device", "tool"})
NO_FRAME = frozenset({"as", "like", "before"})
"""'As always, the rim was rasped' tells of today."""
PERSONS = frozenset({"he", "she", "they", "i", "we"})
"""Where one of these stands, a verb does: 'He fell two years ago'."""


def headed(clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """What stands behind a frame and its colon is meant as the frame, up to the next colon, a 'but' or a 'today'."""
    frame: Assertion | None = None
    for clause in clauses:
        held = found[clause.number]
        lists = {c.list for c in inside[clause.number]}
        if words[clause.end - 1] == ":":
            frame = held if held.mood in FRAMES and not _names_work(inside[clause.number]) else None
        elif "now" in lists or words[clause.start] in TURNS:
            frame = None
        elif frame and held.mood == "performed":
            found[clause.number] = Assertion(frame.mood, held.negated, held.ahead, frame.cue)


def _names_work(own: list[Concept]) -> bool:
    """Whether a clause names work, but by the words of a frame: a 'preoperative drawing' draws nothing."""
    cues = [c for c in own if c.list in FRAMES]
    return any(c.list in WORK and not any(q.start <= c.start < q.end for q in cues) for c in own)


def trailing(clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'Weight bearing was partial | after the last operation': when it was so, told behind it without a pause."""
    for clause, after in zip(clauses, clauses[1:], strict=False):
        here, there = found[clause.number], found[after.number]
        said = set(words[clause.start : clause.end])
        past = bool(said & BEEN) and not said & BEING and not {c.list for c in inside[clause.number]} & SEEN
        only_when = words[after.start] in AFTER or (
            words[after.start] in POINTING and not {c.list for c in inside[after.number]} & {*WORK, *SEEN}
        )
        bare = only_when and not verbal(words, after) and words[after.start - 1] not in PAUSES
        if here.mood == "performed" and there.mood == "history" and past and bare:
            found[clause.number] = Assertion("history", here.negated, here.ahead, there.cue)
        elif here.mood == "performed" and not verbal(words, clause) and _is_predicate(after, words):
            says = _said_of_it(clauses, after, inside, found)
            if says.mood in MEANT:
                found[clause.number] = Assertion(says.mood, here.negated, here.ahead, says.cue)


def taught(clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'Never beyond two hours, | that 's what | I tell the fellows', 'ten apart | and you will be sorry': a rule.

    What was done, and what comes back to this case, is none.
    """
    cue = next((c.start for part in clauses for c in inside[part.number] if c.list == "teaching"), None)
    for clause, after in zip(clauses, (*clauses[1:], None), strict=True):
        held = found[clause.number]
        warned = after is not None and words[after.start : after.start + 3] in WARNING and not verbal(words, clause)
        ours = words[clause.start] in OURS or {c.list for c in inside[clause.number]} & COMES_BACK
        if held.mood == "performed" and (warned or (cue is not None and not ours)):
            at = after.start if after is not None and warned else cue
            found[clause.number] = Assertion("habit" if cue is not None else "conditional", held.negated, None, at)


def _is_predicate(after: Span, words: list[str]) -> bool:
    """'Holes there, microfracture, | is a thing we can do later': a verb whose subject stands before the pause."""
    return words[after.start] in PREDICATES and words[after.start - 1] == ","


def _said_of_it(
    clauses: tuple[Span, ...], after: Span, inside: list[list[Concept]], found: list[Assertion]
) -> Assertion:
    """What a predicate says of its subject, or what hangs on it: '... | is a thing | we can do later'."""
    there = found[after.number]
    if there.mood != "performed" or any(c.list in WORK | SEEN | STATED for c in inside[after.number]):
        return there
    hung = [found[c.number] for c in clauses if after.number < c.number <= after.number + HUNG_ON]
    return next((held for held in hung if held.mood in MEANT), there)


def theirs(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'When it was repaired in 2019 | they used three stitches. They left a screw': what others did, they did then."""
    told, sentence = Assertion(), 0
    for clause in segments.clauses:
        held = found[clause.number]
        if held.mood == "history":
            told, sentence = held, segments.sentence_at(clause.start).number
            continue
        if told.mood != "history":
            continue
        at = min(clause.start + (words[clause.start] in JOINS), clause.end - 1)
        if segments.sentence_at(clause.start).number - sentence > 1:
            told = Assertion()
        elif held.mood == "performed" and words[at] in OTHERS and _act(clause, at, inside, words):
            found[clause.number] = Assertion("history", held.negated, held.ahead, told.cue)
            sentence = segments.sentence_at(clause.start).number


def _act(clause: Span, they: int, inside: list[list[Concept]], words: list[str]) -> bool:
    """Whether 'they' did something to the knee; who had it done is the patient: 'they underwent a repair today'."""
    lists = {c.list for c in inside[clause.number]}
    acts = lists & {"action", "technique", "device"} or words[they + 2 : they + 3] in PATIENT
    return bool(acts) and words[they + 1 : they + 2] not in UNDERGONE


def hung(clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'It is proposed | that an osteotomy be done', 'from two years back, | when I did his left knee'.

    What hangs on 'that' or 'when' is meant as the clause it hangs on, where that one says nothing else.
    """
    for clause, after in zip(clauses, clauses[1:], strict=False):
        here, there = found[clause.number], found[after.number]
        opens = words[after.start]
        sized = here.mood == "history" and words[after.start : after.start + 2] in SIZED
        if sized and there.mood == "performed" and not {c.list for c in inside[after.number]} & {*CONTENT, "finding"}:
            found[after.number] = Assertion("history", there.negated, there.ahead, here.cue)
        if there.mood == "performed" and here.mood == "conditional" and words[clause.end - 1] in UNREAL:
            found[after.number] = Assertion(
                "conditional", there.negated, there.ahead, here.cue
            )  # 'if so would | a ...'
        if opens == "that" and words[after.start - 1] == "nothing" and here.negated:
            found[after.number] = Assertion(there.mood, True, there.ahead, here.cue)  # '| that I would call a plasty'
            continue
        if there.mood != "performed" or here.mood not in HUNG.get(opens, ()):
            continue
        if opens == "where" or not {c.list for c in inside[clause.number]} & CONTENT:
            found[after.number] = Assertion(here.mood, there.negated, there.ahead, here.cue)


def framed(
    clauses: tuple[Span, ...],
    inside: list[list[Concept]],
    found: list[Assertion],
    words: list[str],
    holding: frozenset[str],
) -> None:
    """What stands first, or after, and only says when or whether holds for what is said beside it.

    'Two months ago | the rim was rasped', 'If the graft is too long | we trim it', '... is what | I normally do'.
    """
    opening = False
    for clause, after in zip(clauses, clauses[1:], strict=False):
        here, there = found[clause.number], found[after.number]
        said = words[clause.start : clause.end]
        content = {c.list for c in inside[clause.number]} & CONTENT
        opens_it = clause is clauses[0] or words[clause.start - 1] == ":" or opening
        fronted = opens_it and there.mood == "performed"
        verbless = (FINITE | PERSONS | holding).isdisjoint(said[:-1] if said[-1] == "'s" else said)
        opening = opens_it and verbless and not content  # 'On the right side, | two years back, | there was ...'
        if words[after.start] == "then" and words[clauses[0].start] == "if":
            _depends(clauses[after.number - clauses[0].number :], clauses[0].start, found, words)
        elif fronted and here.mood == "considered" and said[-1] == "as" and not content:
            found[after.number] = Assertion("considered", there.negated, there.ahead, here.cue)  # 'tempting as it was'
        elif fronted and here.mood in {"history", "habit"} and not content and verbless:
            opens = here.cue == clause.start  # 'As a rule', which is no 'as always'
            if (opens or said[0] not in NO_FRAME) and len(said) <= FRAME:
                found[after.number] = Assertion(here.mood, there.negated, there.ahead, here.cue)
        elif fronted and any(c.list == "conditional" and c.start == clause.start for c in inside[clause.number]):
            then = words[after.start : after.end]
            acts = any(c.list in ACTING for c in inside[after.number])
            if acts and not any(
                b != "be" and (w in PAST or w.endswith("ed")) for b, w in zip(["", *then], then, strict=False)
            ):
                found[after.number] = Assertion("conditional", there.negated, there.ahead, here.cue)
        elif here.mood == "conditional" and there.mood == "performed" and _hangs_on_if(clause, after, inside, words):
            found[after.number] = Assertion("conditional", there.negated, there.ahead, here.cue)
        elif here.mood == "performed" and there.mood in {"habit", *MEANT} and said[-1] == "what":
            found[clause.number] = Assertion(there.mood, here.negated, here.ahead, there.cue)


def _hangs_on_if(clause: Span, after: Span, inside: list[list[Concept]], words: list[str]) -> bool:
    """'If it all comes back, | we 'll open it then', '... and if it is bare, | a microfracture'."""
    said = words[clause.start : clause.end]
    if said[0] == "if" and words[after.start + 1 : after.start + 2] in TO_COME:
        return True
    deed = any(c.list in WORK for c in inside[after.number]) and not verbal(words, after)
    return said[:2] == ["and", "if"] and deed and OURS.isdisjoint(said)


def _depends(then: tuple[Span, ...], cue: int, found: list[Assertion], words: list[str]) -> None:
    """'If it swells, | then he goes on crutches | and partial weight': all that the 'then' opens."""
    for clause in then:
        held = found[clause.number]
        if words[clause.start] not in {"then", "and", "or"} or held.mood != "performed":
            return
        found[clause.number] = Assertion("conditional", held.negated, held.ahead, cue)
