"""What a clause asserts: that a thing was done, or was not, or is only thought of.

The words that decide stand in the grammar's lists (`negation`, `negation-ahead`, `considered`,
`conditional`, `habit`, `history`, `planned`); this module only says how far each reaches.
"""

from __future__ import annotations

from extractor.grammar.packs import Grammar
from extractor.language import (
    after_all,
    another_case,
    apart,
    asked_of,
    bygone,
    denied_lists,
    denied_next,
    drawn_again,
    earlier,
    exceptions,
    frames,
    generic,
    given_up,
    intended,
    kept_for,
    looked,
    mistaken,
    named_only,
    none_of_them,
    others,
    said_so,
    set_against,
    undone,
    used_up,
    withdrawn,
)
from extractor.language.answers import answer_questions
from extractor.language.asserted import CONTENT, OTHERWISE, REASONS, USED, Assertion
from extractor.language.clause_words import DENIERS, FINITE, PRONOUNS
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.denied_next import (
    behaves,
    joined_before,
    judged,
    named_before,
    not_now,
    only_why,
    takes_back,
)
from extractor.language.numbers import atom_at
from extractor.language.verbs import PAST, verbal

ORDER = ("history", "habit", "conditional", "considered", "planned")
"""Of several the first in this order is the clause's assertion."""
CUES = frozenset({*ORDER, "negation", "negation-ahead"})
"""Without one of these a clause asserts that what it tells was done."""
DONE_SO = Assertion()
RELATIVE = frozenset({"that", "which", "who"})
FRAGMENT = 2
NAMING = frozenset({"operation", "side", "joint", "now", "structure"})
TURNS = frozenset({"so", "then", "but", "now", "today", "and"})
PLURAL = frozenset({"were", "are", "have"})
MEANT = frozenset({"considered", "conditional", "planned"})
NEITHER = frozenset({"neither", "none"})
TOLD = frozenset({"color", "action"})
"""Lists of what is told for itself before an answer."""
OURS = frozenset({"i", "we"})
DETAILED = frozenset({"history", "planned"})
"""Moods that hold for what a few words without a verb add to a clause."""
JOINED_TO = frozenset({"with", "plus", "combined"})
"""'... be combined, at a second sitting, | with a transplant': what is done together is meant alike."""
LISTS_ON = frozenset({"considered", "habit", "planned"})
CUT_SHORT = frozenset({"habit", "history", "considered", "conditional"})
LEADS_UP = frozenset({"of", "was", "is", "at", "about", "to", "measured"})  # 'the average gap was, | what, | 25 ...'
PLACES = frozenset({"region", "surface"})
WHERE = frozenset({"in", "on", "at", "for", "through"})
FOUND = frozenset({"finding", "grade-system", "grade-word"})
DONE = frozenset({"action", "operation", "device", "technique", "verb"})


def assert_clauses(
    segments: Segmentation,
    concepts: list[Concept],
    words: list[str],
    grammar: Grammar,
    years: frozenset[int] = frozenset(),
) -> tuple[Assertion, ...]:
    """One assertion a clause, in the order of the clauses.

    `years` are tokens of years said; a clause that names a year tells of another time, unless something
    expires or is planned then (list `dated`).
    """
    if not words:
        return tuple(Assertion() for _ in segments.clauses)  # a silent recording
    inside = segments.by_clause(concepts)
    found = [_one(clause, own, words) for clause, own in zip(segments.clauses, inside, strict=True)]
    earlier.in_other_years(years, segments, inside, found, words)
    earlier.by_the_paper(segments, found, words)
    earlier.in_his_twenties(segments, inside, found, words)
    answer_questions(segments, inside, found, words)
    readying, undecided, holds = (grammar.plain_words(name) for name in ("readying", "undecided", "holds-rule"))
    for sentence in segments.sentences:
        clauses = segments.clauses_of(sentence)
        several = len(clauses) > 1  # what one clause says of another takes two
        if several:
            denied_lists.deny_list(sentence, segments, found, words)
            frames.headed(clauses, inside, found, words)
            frames.trailing(clauses, inside, found, words)
            undone.headings(clauses, inside, found, words, readying)
        undone.inverted(clauses, found, words)
        if several:
            after_all.unthinkable(clauses, found, words)
            _beside(clauses, inside, found, words)
            undone.raised(clauses, inside, found, words)
            undone.refused(clauses, inside, found, words, readying)
        undone.undecided(clauses, inside, found, words, undecided)
        if several:
            undone.coordinated(clauses, found, words)
            undone.fronted(clauses, inside, found, words)
            undone.fronted_in_parts(clauses, inside, found, words)
        apart.apart(clauses, inside, found, words, grammar)
        if several:
            after_all.none_that_not(clauses, found, words)
            undone.confirmed(clauses, inside, found, words)
            undone.interrupted(clauses, found, words)
            undone.reported(clauses, inside, found, words)
            frames.hung(clauses, inside, found, words)
            named_only.of_nothing(clauses, inside, found, words)
            frames.framed(clauses, inside, found, words, holds)
            earlier.told_with(clauses, inside, found, words)
            denied_lists.no_list(clauses, inside, found, words)
        frames.taught(clauses, inside, found, words)
        generic.generic(clauses, inside, found, words, grammar)
    named_only.used_after_all(segments, inside, found, words)
    mistaken.mistaken(segments, inside, found, words)
    others.others(segments, inside, found, words, grammar.plain_words("operated-on"))
    bygone.bygone(segments, inside, found, words)
    another_case.told_of(segments, inside, found, words, grammar)
    another_case.told_apart(segments, inside, found, words)
    another_case.of_habit(segments, inside, found, words)
    frames.theirs(segments, inside, found, words)
    given_up.given_up(segments, inside, found, words, grammar)
    none_of_them.none_of_them(segments, inside, found, words)
    set_against.set_against(segments, inside, found, words)
    used_up.used_up(segments, inside, found)
    named_only.named_only(segments, inside, found, words, grammar)
    kept_for.kept_for(segments, inside, found, words)
    kept_for.rather_not(segments, inside, found, words)
    _carry_on(segments, inside, found, words)
    earlier.goes_on(segments, inside, found, words)
    earlier.told_of_then(segments, inside, found, words)
    earlier.back_then(segments, inside, found, words)
    earlier.stay_earlier(segments, inside, found, words, grammar.concepts_in("setting-up"))
    earlier.done_then(segments, inside, found, words)
    earlier.at_that_one(segments, inside, found, words)
    earlier.until_today(segments, inside, found)
    earlier.scanned_lately(segments, inside, found, words)
    said_so.said_of_subject(segments, found, words)
    said_so.held_of_any(segments, found, words)
    asked_of.asked_of_another(segments, inside, found, words)
    after_all.belied(segments, inside, found, words)
    after_all.done_after_all(segments, inside, found, words, grammar)
    intended.intended(segments, inside, found, words, grammar.concepts_in("announced-deed"))
    looked.taken(segments, inside, found, words)
    exceptions.excepted(segments, inside, found, words)
    denied_next.denied_next(segments, inside, found, words, grammar)
    drawn_again.drawn_again(segments, inside, found, words)
    withdrawn.withdrawn(segments, inside, found, words)
    return tuple(found)


def _beside(clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """What a clause takes from the one behind it in its sentence: an 'if', a denial, a verb, a habit it opens."""
    for clause, after in zip(clauses, clauses[1:], strict=False):
        here, there = found[clause.number], found[after.number]
        if here.mood == "performed" and words[after.start] == "if" and there.mood == "conditional":
            found[clause.number] = Assertion("conditional", here.negated, here.ahead, here.cue)
        elif here.mood == "performed" and takes_back(after, inside[after.number], words):
            for named in _answered(clauses, after, inside, found, words):
                _deny(named, after, found, words)
        elif here.mood == "performed" and not_now(after, words) and not verbal(words, clause):
            for named in joined_before(clauses, after, words):
                found[named.number] = Assertion("performed", True, None, there.cue)
        elif _shares_verb(clause, after, inside, there, words, opens=clause == clauses[0]):
            found[clause.number] = Assertion(there.mood, there.negated, None, there.cue)
        elif (
            (not here.negated or only_why(clause, after, inside, found, words))
            and _is_tail(after, inside[after.number], there, words)
            and not judged(clause, after, words)
        ):
            for named in named_before(clauses, after, inside, found, words):
                if _only_found(inside[named.number]):
                    continue  # 'soft, grade one, and nothing was done for it'
                _deny(named, after, found, words, found[named.number].ahead)
        elif (
            clause.end - clause.start <= 3
            and here.mood == "habit"
            and there.mood == "performed"
            and (words[clause.end - 1] == "," or clause.end - clause.start == 1)
            and (here.cue == clause.start or words[clause.start] not in frames.NO_FRAME)
            and words[after.start] != "so"  # 'I go a millimeter short, always have, | so mark me fifteen'
        ):
            found[after.number] = Assertion("habit", there.negated, there.ahead, here.cue)


def _carry_on(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'I could have put a stitch in, all-inside, but ...': a few words set off by a comma are meant alike."""
    for before, clause in zip(segments.clauses, segments.clauses[1:], strict=False):
        spoken = [w for w in words[clause.start : clause.end] if w.isalnum()]
        mood, held = found[before.number].mood, found[before.number]
        if mood == "history" and bygone.is_found_today(words, clause, inside[clause.number]):
            continue
        if (
            words[clause.start] in {"or", "nor"}
            and (held.negated or held.ahead is not None)
            and segments.level[clause.start] == 1
        ):
            found[clause.number] = Assertion(found[clause.number].mood, True, None, held.cue)
        short = 0 < len(spoken) <= FRAGMENT and "doing" not in clause.lists
        listed = mood in LISTS_ON and segments.level[clause.start] < 3 and _goes_on(words, clause)
        listed = listed or (
            mood in {"considered", "habit"} and segments.level[clause.start] == 2 and _only_where(words, clause, inside)
        )
        told = mood in DETAILED and segments.level[clause.start] == 2 and _adds_detail(words, clause, mood)
        used = mood == "history" and words[before.start] in JOINED_TO and words[clause.start] == "and"
        told = told or (used and _adds_detail(words, clause, mood, clause.start + 1))
        listed = listed or (mood in CUT_SHORT and words[before.end - 1] == "," and words[before.end - 2] in LEADS_UP)
        if (listed or told) and found[clause.number].mood == "performed":
            found[clause.number] = Assertion(
                mood, found[clause.number].negated, found[clause.number].ahead, found[before.number].cue
            )
        elif mood in {"conditional", "considered", "history"} and found[clause.number].mood == "performed" and short:
            if segments.level[clause.start] == 2 and words[clause.start] not in {"so", "then", "but", "and"}:
                found[clause.number] = Assertion(
                    mood, found[clause.number].negated, found[clause.number].ahead, found[before.number].cue
                )


def _adds_detail(words: list[str], clause: Span, mood: str, start: int | None = None) -> bool:
    """'Two years ago a graft was used, | eight millimeters in diameter': no verb, and nothing that names this case."""
    lists, first = clause.lists, words[clause.start if start is None else start]
    joined = first in JOINED_TO and (mood == "planned" or bool(lists & USED))
    named = lists & (NAMING if not joined else OTHERWISE if mood == "history" else frozenset())
    at_that_time = mood == "history" and first == "then" and words[clause.end - 1] == ","
    turns = first in TURNS and not at_that_time  # 'a year ago, | then six millimeters deep, | ...'
    own = words[clause.start] == "the" and words[min(clause.start + 2, clause.end - 1)].endswith("s")
    own = (
        own and atom_at(words, clause.start + 3) is not None
    )  # 'the scan promised fifteen, | the probe gives nineteen'
    return not (named or turns or own) and PRONOUNS.isdisjoint(clause.said) and not verbal(words, clause)


def _goes_on(words: list[str], clause: Span) -> bool:
    """Whether a clause adds to a list: 'I had consented him for a repair | and a possible meniscectomy'."""
    told = verbal(words, clause) or not OURS.isdisjoint(clause.said)
    return words[clause.start] in {"and", "or", "a", "an", "possible"} and not told


def _only_where(words: list[str], clause: Span, inside: list[list[Concept]]) -> bool:
    """'I 'd thought of one more stitch, | in the middle of the graft': a few words that only tell where it would go."""
    lists = clause.lists
    placed = bool(lists & PLACES) and not lists & {*DONE, "color", "finding", "number"}
    opens = words[clause.start] in WHERE or any(
        c.start == clause.start and c.list in PLACES for c in inside[clause.number]
    )
    return opens and placed and not verbal(words, clause)


def _one(clause: Span, own: list[Concept], words: list[str]) -> Assertion:
    if CUES.isdisjoint(clause.lists):
        return undone.put_off(clause, DONE_SO)
    cues: dict[str, Concept] = {}
    for c in own:
        cues.setdefault(c.list, c)
    mood = next((m for m in ORDER if m in cues), "performed")
    whole, ahead = undone.standing(own, words)
    last = clause.end - 1
    while last > clause.start and words[last] in {".", ",", "\n", ";", ":"}:
        last -= 1
    reach = ahead.end - 1 if ahead else None
    if ahead is not None and ahead.end - 1 >= last and ahead.start > clause.start:
        reach = _last_pause(words, clause, ahead.start)
        whole = whole if reach else whole or ahead  # 'Complications, no': what is denied stands before
    cue = whole or ahead or cues.get(mood)
    opening = words[clause.start : clause.start + 2]
    if mood == "habit" and opening[0] == "then" and opening[-1] in OURS and words[cues[mood].start] == "always":
        mood = "performed"  # 'Then we always tie ...': told as the next thing done
    meant = Assertion(mood, whole is not None, reach, cue.start if cue else None)
    return undone.put_off(clause, after_all.without_twice(clause, own, meant, words))


def _last_pause(words: list[str], clause: Span, no: int) -> int | None:
    """'Rasping yes, trephining no': the pause behind which the 'no' at the end denies; None where all is denied."""
    at = max((i for i in range(clause.start, no) if words[i] == ","), default=None)
    return at if at is not None and at < no - 1 and "yes" in words[clause.start : at] else None


def _is_tail(clause: Span, own: list[Concept], assertion: Assertion, words: list[str]) -> bool:
    """Whether the clause only denies what the one before named: '... but we did not do it', 'neither was needed'.

    What is told of it denies nothing: 'a scan that did not show much'; nor its purpose: 'so the edge does not pucker'.
    """
    doing = {c.start for c in own if c.list in {"doing", "put-to-use"}}
    purpose = words[clause.start - 1 : clause.start + 1] == ["so", "that"]  # 'went in so | that no fat gets in'
    if purpose or undone.is_of_another(words, clause) or behaves(clause, doing, words):
        return False
    if words[clause.start] in REASONS or (words[clause.start] == "so" and any(c.list == "harm" for c in own)):
        return False
    if words[clause.start] in RELATIVE:
        after = [i + 1 for i in range(clause.start, clause.end - 1) if words[i] in {"not", "n't"}]
        after = [i + 2 if words[i : i + 2] == ["going", "to"] else i for i in after]
        if any(words[i].isalpha() and words[i] not in {"be", "been"} and i not in doing for i in after):
            return False
    content = {c.list for c in own if c.start not in doing} & CONTENT
    ahead = assertion.ahead is not None and any(at > assertion.ahead for at in doing)
    return (assertion.negated or ahead) and bool(doing) and not content


def _only_found(own: list[Concept]) -> bool:
    """Whether a clause tells what was found, and of nothing that could be done."""
    lists = {c.list for c in own}
    return bool(lists & FOUND) and not lists & DONE


def _shares_verb(
    clause: Span, after: Span, inside: list[list[Concept]], there: Assertion, words: list[str], *, opens: bool
) -> bool:
    """'Trephination | and a clot were considered': two subjects of one verb in the plural are meant alike.

    So are two that open a sentence without one: 'Clot | and trephination not needed'.
    """
    joins = words[after.start] in {"and", "or"} and PRONOUNS.isdisjoint(words[after.start + 1 : after.start + 2])
    if not joins or verbal(words, clause) or not (there.negated or there.mood in MEANT):
        return False
    verb = next((w for w in words[after.start : after.end] if w in FINITE or w in PAST), "")
    named = clause.lists & {"action", "technique", "device", "tie"}
    last = max((c.end for c in inside[clause.number] if c.list in DONE), default=0)
    opens = opens and last == after.start and not words[last - 1].endswith("ed")
    alike = verb in PLURAL or (opens and not verb and words[after.start + 1] not in DENIERS)
    return alike and bool(named) and not CONTENT.isdisjoint(after.lists)


def _answered(
    clauses: tuple[Span, ...], tail: Span, inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> list[Span]:
    """What an answer takes back: the clause before it, of 'none' and 'neither' also those before that.

    Not what was told there of something else: 'Anterior blue, posterior white, graft in, bridge, none'.
    """
    if NEITHER.isdisjoint(tail.said):
        return [clauses[clauses.index(tail) - 1]]
    named = named_before(clauses, tail, inside, found, words)
    if "of" in words[tail.start : tail.end]:
        return named  # 'Trephination, clot, awl: | none of these'
    told = next((i for i, c in enumerate(named) if i and TOLD & {k.list for k in inside[c.number]}), len(named))
    return named[:told]


def _deny(clause: Span, tail: Span, found: list[Assertion], words: list[str], ahead: int | None = None) -> None:
    """Have a clause denied by the one behind it."""
    held = found[clause.number]
    mood = "performed" if undone.is_habit_broken(held, tail, words) else held.mood
    found[clause.number] = Assertion(mood, True, ahead, found[tail.number].cue)
