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
FRAME = 12
RUN_ON, NEAR_CUE = 18, 4
"""Tokens of a sentence said without a pause, and from a clause to the words that make a rule of it there."""
SIZED = (["that", "was"], ["that", "were"], ["that", "measured"])
"""What opens a mere size of something told of another time: '... years ago through tunnels | that were nine wide'."""
PLACED, WORKS = frozenset({"where", "when"}), frozenset({"operation", "surgery", "procedure", "intervention"})
ANY = frozenset({"an", "a", "another", "some", "earlier", "previous", "last", "first", "old"})
"""'The scars come from an operation | where the rim was trephined': no work of today is any operation."""
HUNG = {"that": ("planned", "considered", "habit"), "when": ("history",), "where": ("history",)}
"""Moods of a clause that hold for what hangs on it by this word."""
ACTING = frozenset({"action", "tie", "technique", "device", "tool", "operation"})
NO_FRAME = frozenset(
    {"as", "like", "before", "unlike", "despite", "just", "same", "because", "since", "due", "owing", "thanks", "than"}
)
"""'As always, the rim was rasped' tells of today."""
SET_BESIDE = frozenset({"contrast", "comparison", "compared", "unlike", "opposed", "contrary", "different", "than"})
"""What this case is only compared with: 'In contrast to the last case, the rim was rasped' tells of today."""
ALIKE = frozenset({
    "exactly", "just", "much", "not", "quite", "almost", "the", "same", "similar", "similarly", "different",
    "differently", "very", "again", "once", "more",
})  # fmt: skip
THIS_IS = (["this", "is"], ["this", "'s"], ["we", "are"], ["we", "'re"], ["today", "is"])
"""What opens so tells of this case, whoever it is told to: 'For the students: | this is a left knee'."""
LED_IN = 4
"""Words before the one that compares: 'the same as', 'differently from', 'exactly like', and how many there are."""
TODAY, AS_FAR_AS = frozenset({"now", "today"}), ["as", "far", "as"]
OFTEN = frozenset({"often", "sometimes", "frequently", "occasionally"})
"""One of these alone before a clause in the present makes a habit of it: 'Often | the rim is trephined'."""
OFTEN_ALONE = 2
SAYING = frozenset({"say", "said", "write", "wrote", "dictate", "dictated", "claim", "claimed", "tell", "told"})
"""What hangs on one of these was only nearly said: 'I nearly said | it was thawed'."""
POSSIBLE = frozenset({"possible", "option", "conceivable", "imaginable"})
PERSONS = frozenset({"he", "she", "they", "i", "we"})
"""Where one of these stands, a verb does: 'He fell two years ago'."""


def headed(clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """What stands behind a frame and its colon is meant as the frame, up to the next colon, a 'but' or a 'today'."""
    frame: Assertion | None = None
    opens = 0
    for n, clause in enumerate(clauses):
        held = found[clause.number]
        lists = clause.lists
        if words[clause.end - 1] == ":":
            frame = held if held.mood in FRAMES and not _names_work(inside[clause.number]) else None
            if frame is None and _not_this_one(clauses[opens : n + 1], inside, found):
                frame = Assertion("history", False, None, clause.start)
            opens = n + 1
        elif "now" in lists or words[clause.start] in TURNS:
            frame = None
        elif frame and held.mood == "performed":
            found[clause.number] = Assertion(frame.mood, held.negated, held.ahead, frame.cue)


def _not_this_one(head: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion]) -> bool:
    """'Numbers that are not this knee's: ...', 'for the other knee, not this one: ...': of another."""
    if any(_names_work(inside[c.number]) or "doing" in c.lists for c in head):
        return False
    return any(found[c.number].negated and COMES_BACK & c.lists for c in head)


def _names_work(own: list[Concept]) -> bool:
    """Whether a clause names work, but by the words of a frame: a 'preoperative drawing' draws nothing."""
    cues = [c for c in own if c.list in FRAMES]
    return any(c.list in WORK and not any(q.start <= c.start < q.end for q in cues) for c in own)


def trailing(clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'Weight bearing was partial | after the last operation': when it was so, told behind it without a pause."""
    for clause, after in zip(clauses, clauses[1:], strict=False):
        here, there = found[clause.number], found[after.number]
        said = clause.said
        past = bool(said & BEEN) and not said & BEING and not clause.lists & SEEN
        only_when = words[after.start] in AFTER or (words[after.start] in POINTING and not after.lists & {*WORK, *SEEN})
        bare = only_when and not verbal(words, after) and words[after.start - 1] not in PAUSES
        if here.mood == "performed" and there.mood == "habit" and _compared(clause, after, words):
            found[clause.number] = Assertion("habit", here.negated, here.ahead, there.cue)
        elif here.mood == "performed" and there.mood == "history" and past and bare:
            found[clause.number] = Assertion("history", here.negated, here.ahead, there.cue)
        elif here.mood == "performed" and not verbal(words, clause) and _is_predicate(after, words):
            says = _said_of_it(clauses, after, inside, found)
            if says.mood in MEANT:
                found[clause.number] = Assertion(says.mood, here.negated, here.ahead, says.cue)


def _compared(clause: Span, after: Span, words: list[str]) -> bool:
    """'..., more than the six millimeters | I usually see': what is only compared with, and its usual beholder."""
    said = words[clause.start : clause.end]
    bare = not verbal(words, clause) and words[clause.end - 1] not in PAUSES
    return bare and "than" in said[:3] and words[after.start] in PERSONS | {"one", "you"}


def taught(clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'Never beyond two hours, | that 's what | I tell the fellows', 'ten apart | and you will be sorry': a rule.

    What was done, and what comes back to this case, is none.
    """
    teaching = [part for part in clauses if "teaching" in part.lists and words[part.start] not in NO_FRAME]
    cues = [c.start for part in teaching for c in inside[part.number] if c.list == "teaching"]
    if not cues and len(clauses) == 1:
        return
    cue = cues[0] if cues else None  # not of 'as I teach them, | ...'
    whole = words[clauses[0].start : clauses[-1].end] if cues else []
    long = len(whole) > RUN_ON and PAUSES.isdisjoint(whole[:-1])
    for clause, after in zip(clauses, (*clauses[1:], None), strict=True):
        held = found[clause.number]
        apart = long and cue is not None and not clause.start - NEAR_CUE <= cue < clause.end + NEAR_CUE
        away = cue is not None and not clause.start <= cue < clause.end
        if apart or (long and away and _tells_deed(inside[clause.number])):
            continue  # in speech without full stops the talk goes on with the case
        warned = after is not None and words[after.start : after.start + 3] in WARNING and not verbal(words, clause)
        ours = words[clause.start] in OURS or clause.lists & COMES_BACK
        if held.mood == "performed" and (warned or (cue is not None and not ours)):
            at = after.start if after is not None and warned else cue
            found[clause.number] = Assertion("habit" if cue is not None else "conditional", held.negated, None, at)


def _tells_deed(own: list[Concept]) -> bool:
    return any(c.list in {"action", "tie", "heading"} for c in own)


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
    lists = clause.lists
    acts = lists & {"action", "technique", "device"} or words[they + 2 : they + 3] in PATIENT
    return bool(acts) and words[they + 1 : they + 2] not in UNDERGONE


def hung(clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'It is proposed | that an osteotomy be done', 'from two years back, | when I did his left knee'.

    What hangs on 'that' or 'when' is meant as the clause it hangs on, where that one says nothing else.
    """
    for clause, after in zip(clauses, clauses[1:], strict=False):
        here, there = found[clause.number], found[after.number]
        opens = words[after.start]
        if words[clause.start] in OFTEN and clause.end - clause.start <= OFTEN_ALONE and there.mood == "performed":
            if PAST.isdisjoint(after.said) and not COMES_BACK & {c.list for c in inside[after.number]}:
                found[after.number] = Assertion("habit", there.negated, there.ahead, clause.start)
        if (
            opens in PLACED
            and words[clause.end - 1] in WORKS
            and words[clause.end - 2] in ANY
            and there.mood == "performed"
        ):
            found[after.number] = Assertion(
                "history", there.negated, there.ahead, here.cue
            )  # 'an operation | where ...'
        sized = here.mood == "history" and words[after.start : after.start + 2] in SIZED
        if sized and there.mood == "performed" and not after.lists & {*CONTENT, "finding"}:
            found[after.number] = Assertion("history", there.negated, there.ahead, here.cue)
        if there.mood == "performed" and here.mood == "conditional" and words[clause.end - 1] in UNREAL:
            found[after.number] = Assertion(
                "conditional", there.negated, there.ahead, here.cue
            )  # 'if so would | a ...'
        asked = words[clause.end - 1] == "whether" and not clause.lists & CONTENT
        if there.mood == "performed" and asked:
            found[after.number] = Assertion("conditional", there.negated, there.ahead, here.cue)  # '| I add a stitch'
        if (
            here.mood == "considered"
            and there.mood == "performed"
            and words[clause.end - 1] in SAYING | {"how"}
            and not clause.lists & CONTENT
        ):
            found[after.number] = Assertion("considered", there.negated, there.ahead, here.cue)  # 'I nearly said | ...'
        if opens == "that" and words[after.start - 1] == "nothing" and here.negated:
            found[after.number] = Assertion(there.mood, True, there.ahead, here.cue)  # '| that I would call a plasty'
            continue
        if there.mood != "performed" or here.mood not in HUNG.get(opens, ()):
            continue
        then = words[after.start : after.start + 2] == ["when", "they"]  # '... | when they took thirty percent'
        if then or opens == "where" or not clause.lists & CONTENT:
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
        content = clause.lists & CONTENT
        opens_it = clause is clauses[0] or words[clause.start - 1] == ":" or opening
        today = "now" in clause.lists or "now" in after.lists
        fronted = opens_it and there.mood == "performed" and not (today and here.mood in FRAMES)
        verbless = (FINITE | PERSONS | holding).isdisjoint(said[:-1] if said[-1] == "'s" else said)
        opening = opens_it and verbless and not content  # 'On the right side, | two years back, | there was ...'
        if opens_it and not content and _carried(clause, here, there, words):
            mood = "conditional" if there.mood == "planned" else here.mood
            found[after.number] = Assertion(mood, there.negated, there.ahead, here.cue)
        elif words[after.start] == "then" and words[clauses[0].start] == "if":
            _depends(clauses[after.number - clauses[0].number :], clauses[0].start, found, words)
        elif fronted and here.mood == "considered" and said[-1] == "as" and not content:
            found[after.number] = Assertion("considered", there.negated, there.ahead, here.cue)  # 'tempting as it was'
        elif fronted and here.mood in {"history", "habit"} and not content and verbless:
            if words[after.start : after.start + 2] not in THIS_IS and _opens_frame(clause, after, here, words):
                found[after.number] = Assertion(here.mood, there.negated, there.ahead, here.cue)
        elif (
            fronted
            and "conditional" in clause.lists
            and any(c.list == "conditional" and c.start == clause.start for c in inside[clause.number])
        ):
            then = words[after.start : after.end]
            acts = not ACTING.isdisjoint(after.lists) or not POSSIBLE.isdisjoint(then)
            if acts and not any(
                b != "be" and (w in PAST or w.endswith("ed")) for b, w in zip(["", *then], then, strict=False)
            ):
                found[after.number] = Assertion("conditional", there.negated, there.ahead, here.cue)
        elif here.mood == "conditional" and there.mood == "performed" and _hangs_on_if(clause, after, inside, words):
            found[after.number] = Assertion("conditional", there.negated, there.ahead, here.cue)
        elif here.mood == "performed" and there.mood in {"habit", *MEANT} and said[-1] == "what":
            found[clause.number] = Assertion(there.mood, here.negated, here.ahead, there.cue)


def _carried(clause: Span, here: Assertion, there: Assertion, words: list[str]) -> bool:
    """'Should it gap, | I will cut it', 'when I was a fellow | we cut it': what a fronted clause says of the next."""
    if there.mood == "planned":
        return here.mood == "conditional" and here.cue == clause.start and words[clause.end - 1] == ","
    return there.mood == "performed" and here.mood in {"history", "habit"} and _tells_when(clause, here, words)


def _tells_when(clause: Span, held: Assertion, words: list[str]) -> bool:
    """'When I was a fellow | we trephined it', 'last time I was in here | ...': a time, and somebody's doing in it."""
    opening = words[clause.start : clause.start + 3]
    who = opening[1:2] if opening[0] == "when" else opening[2:3]
    when = opening[0] == "when" and held.mood == "habit"
    return (when or (opening[:2] == ["last", "time"] and held.cue == clause.start)) and who[:1] not in ([], ["the"])


def _opens_frame(clause: Span, after: Span, held: Assertion, words: list[str]) -> bool:
    """'As a rule', which is no 'as always', nor a case that this is set beside: 'others would not, | but I did'."""
    said = words[clause.start : clause.end]
    beside = not SET_BESIDE.isdisjoint(said) or words[after.start] in TURNS or words[after.start] in TODAY
    beside = beside or not TODAY.isdisjoint(words[after.end - 2 : after.end])  # '... elsewhere, | it was rasped today'
    opens = held.cue == clause.start or said[:3] == AS_FAR_AS
    return (opens or not compares(words, clause.start)) and len(said) <= FRAME and not beside


def compares(words: list[str], start: int) -> bool:
    """Whether a clause only sets this case beside another: 'exactly as in the last one', 'as in | so many knees'."""
    at = start
    while at < min(start + LED_IN, len(words) - 1) and words[at] in ALIKE:
        at += 1
    led = at > start and words[at : at + 1] in (["to"], ["from"], ["than"]) and words[at + 1 : at + 2] != ["be"]
    before = words[max(0, start - 2) : start]
    return words[at] in NO_FRAME or led or not NO_FRAME.isdisjoint(before) or words[start : start + 2] == ["same", "as"]


def _hangs_on_if(clause: Span, after: Span, inside: list[list[Concept]], words: list[str]) -> bool:
    """'If it all comes back, | we 'll open it then', '... and if it is bare, | a microfracture'."""
    said = words[clause.start : clause.end]
    if said[0] == "if" and words[after.start + 1 : after.start + 2] in TO_COME:
        return True
    deed = not WORK.isdisjoint(after.lists) and not verbal(words, after)
    return said[:2] == ["and", "if"] and deed and OURS.isdisjoint(said)


def _depends(then: tuple[Span, ...], cue: int, found: list[Assertion], words: list[str]) -> None:
    """'If it swells, | then he goes on crutches | and partial weight': all that the 'then' opens."""
    for clause in then:
        held = found[clause.number]
        if words[clause.start] not in {"then", "and", "or"} or held.mood != "performed":
            return
        found[clause.number] = Assertion("conditional", held.negated, held.ahead, cue)
