"""Accounts of another time: a year named, an earlier operation told in sentences until 'today'.

The words stand in the lists `history`, `dated`, `now` and `told-with`; this module says how far they reach.
"""

from __future__ import annotations

from extractor.language.asserted import Assertion
from extractor.language.by_date import at_the_end, by_date
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.corrections import put_right
from extractor.language.others import TIMES
from extractor.language.verbs import PAST, verbal
from extractor.language.what_it_was import what_it_was

OURS = frozenset({"i", "we"})
"""Whoever dictates tells of this operation."""
PAST_OR_HELPING = PAST | {
    "put",
    "cut",
    "set",
    "found",
    "saw",
    "left",
    "drew",
    "got",
    "had",
    "have",
    "did",
    "was",
    "were",
    "would",
    "could",
    "never",
    "then",
    "also",
    "both",
}
HELPING = frozenset({"was", "were", "have", "would", "could", "never", "then", "also", "both", "left"})
DEEDS = frozenset({"action", "operation", "technique", "device", "color", "dimension", "tie"})
DONE_BY = frozenset({"bystander", "doing"})
YEAR = 4
"""Digits of a year, and letters of 'used', where 'red' is no verb."""
FOUND = frozenset({"finding", "grade-system", "grade-word"})
DATED = 6
"""Words from 'expires' or 'on' to the year of a date, at most."""
EARLIER = frozenset({"operation", "action", "technique", "uninvolved", "device", "joint"})
"""Lists of which an account of an earlier operation says something."""
EARLIER_TOO = EARLIER | {"told-with"}
"""... and what is pointed back at from the sentence behind it: 'He was operated on abroad. There, the rim was cut'."""
BARE = 4
"""Tokens of a clause that only points to that operation, at most."""
HAD = frozenset({"had", "was", "were", "got", "underwent", "did"})
DECADES = frozenset({"teens", "twenties", "thirties", "forties", "fifties", "sixties"})
LED_IN_AGE = 4
"""Words up to the age in 'in his early twenties'."""
TOLD_WITH = frozenset({"told-with:told-with", "told-with:then"})
SCAN, READ_OFF = "scan-word", "extrusion"
"""What tells of a scan, and what is a finding as read off one."""
YEARS = frozenset({"year", "years", "decade", "childhood", "before", "preoperative", "first"})
AT_ONE = frozenset({"told-with:one-of-them", "told-with:then"})
"""What opens with one of these tells of an earlier operation: 'At the first operation ...', 'Back then ...'."""
ACCOUNT, LEAD = 6, 6
"""Sentences such an account has at most, and words before 'today' in the sentence that ends it."""
THERE, THERE_WITHIN = frozenset({",", "he", "she", "they", "his", "her"}), 3
"""Behind a 'there' that points back to the place of an earlier operation, and how near its clause stands."""
PRESENT = frozenset({"is", "are", "'s"})
NEXT_STEP = frozenset({"the", "to", "for", "we", "i", "let"})
"""Behind a 'now' that only leads on."""


def in_other_years(
    years: frozenset[int],
    segments: Segmentation,
    inside: list[list[Concept]],
    found: list[Assertion],
    words: list[str],
) -> None:
    """A clause that names a year tells of it, unless the year is a date of today, of expiry or of a plan.

    'Closed the wound on the thigh in 2016' holds an 'on' that dates nothing.
    """
    for year in sorted(years):
        n = segments.clause_at(year).number
        dated = any(
            c.list == "dated" and year - DATED <= c.start <= year and (words[c.start], words[year - 1]) != ("on", "in")
            for c in inside[n]
        )
        if found[n].mood == "performed" and not dated:
            found[n] = Assertion("history", found[n].negated, found[n].ahead, year)


def stay_earlier(
    segments: Segmentation,
    inside: list[list[Concept]],
    found: list[Assertion],
    words: list[str],
    setting_up: frozenset[str],
) -> None:
    """An account of an earlier operation goes on until 'today': 'The left was done last year. A graft of 8. Today ...'.

    Where nobody says 'today', or the leg is being prepared (concepts of `setting_up`), it has ended without a word, and
    nothing is carried on.
    """
    for sentence in segments.sentences:
        clauses = segments.clauses_of(sentence)
        lists = {c.list for clause in clauses for c in inside[clause.number]}
        if not lists & EARLIER or not any(found[c.number].mood == "history" for c in clauses):
            continue
        if _is_aside(clauses, inside, found, words) or _is_over(clauses, inside, found):
            continue
        account: list[Span] = []
        found_now = False
        for after in segments.sentences[sentence.number + 1 : sentence.number + 1 + ACCOUNT]:
            own = [c for clause in segments.clauses_of(after) for c in inside[clause.number]]
            now = [c for c in own if c.list == "now" and c.start < after.start + LEAD]
            if now and all(_only_next(words, c, own) for c in now):
                break  # 'Now the numbers.': what is done one by one
            if now:
                for told in account:
                    _make_history(told, segments, found)
                break
            if any(c.key in setting_up for c in own) or words[after.start] == "\n" or _in_hand(words, after):
                break
            found_now = found_now or _found_now(words, after, own)
            if not found_now:
                account.append(after)


def _is_over(clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion]) -> bool:
    """'We cut his at seventeen, | so look at it this time': whether its own sentence comes back to today."""
    last = max(c.number for c in clauses if found[c.number].mood == "history")
    return any(c.number > last and any(k.list == "now" for k in inside[c.number]) for c in clauses)


def _found_now(words: list[str], sentence: Span, own: list[Concept]) -> bool:
    """'Posterior horn of the meniscus is gone': what is found in the present is no part of the account."""
    said = words[sentence.start : sentence.end]
    return not PRESENT.isdisjoint(said) and any(c.list in FOUND for c in own)


def _only_next(words: list[str], now: Concept, own: list[Concept]) -> bool:
    """'Now the numbers.', 'Now we measure it.': the next step, and no day that is set against another."""
    apart = any(c.list in {"side", "joint", "operation"} for c in own)
    return words[now.start : now.end] == ["now"] and words[now.end : now.end + 1][0] in NEXT_STEP and not apart


def _in_hand(words: list[str], sentence: Span) -> bool:
    """'I clean the borders': whoever dictates says in the present what is done while it is dictated."""
    subject, verb = words[sentence.start], words[sentence.start + 1 : sentence.start + 2]
    past = not PAST_OR_HELPING.isdisjoint(verb) or bool(verb and verb[0].endswith("ed"))
    return subject in OURS and bool(verb) and verb[0].isalpha() and not past


def _is_aside(clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> bool:
    """Whether earlier work only explains what is found today: 'The meniscus is deficient, it was taken out in 2019'."""
    first = clauses[0]
    told = found[first.number].mood == "performed" and not FOUND.isdisjoint(first.lists)
    return told and not PRESENT.isdisjoint(first.said)


def _make_history(sentence: Span, segments: Segmentation, found: list[Assertion]) -> None:
    for clause in segments.clauses_of(sentence):
        held = found[clause.number]
        if held.mood in {"performed", "planned"}:
            found[clause.number] = Assertion("history", held.negated, held.ahead, held.cue)


def done_then(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'An ACL reconstruction in 2018, the meniscus was torn, | it was resected at the same time': at that operation.

    What points there (list `then-too`) tells of the earlier operation told last, in its sentence or the one before; so
    does what stands between. Where this operation was spoken of since, it is done at the same time as that.
    """
    for clause in (c for c in segments.clauses if "then-too" in c.lists):
        there = [c for c in inside[clause.number] if c.list == "then-too" and words[c.end : c.end + 1] != ["as"]]
        if found[clause.number].mood != "performed" or not there:
            continue
        sentence = segments.sentence_at(clause.start)
        floor = segments.sentences[max(0, sentence.number - 1)].start
        told: list[Span] = [clause]
        if clause.end - clause.start <= BARE and clause.end < sentence.end:
            told.append(segments.clauses[clause.number + 1])  # 'Then also | the meniscus was sutured'
        for number in range(clause.number - 1, -1, -1):
            before = segments.clauses[number]
            lists = before.lists
            ours = found[before.number].mood != "history" and OURS & before.said
            if before.start < floor or "now" in lists or ours:
                break
            if found[before.number].mood == "history" and "background" not in lists:
                for one in told:
                    held = found[one.number]
                    found[one.number] = Assertion("history", held.negated, held.ahead, clause.start)
                break
            if found[before.number].mood == "performed":
                told.append(before)


def at_that_one(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'In that operation the gap was 20 mm long, | the graft was cut, | and the tourniquet time was 88 minutes'.

    What a sentence opens with holds for all of it that is told in the past, up to a 'today' or whoever dictates. An
    operation that is only pointed to ('in that one') was told as an earlier one in the sentence before.
    """
    for sentence in segments.sentences:
        clauses = segments.clauses_of(sentence)
        if clauses[0].lists.isdisjoint(("told-with", "then-too")):
            continue
        first, opens = found[clauses[0].number], [c for c in inside[clauses[0].number] if c.start <= sentence.start + 1]
        named = first.mood == "history" and any(c.key in AT_ONE or c.list == "then-too" for c in opens)
        pointed = first.mood == "performed" and any(c.list == "then-too" for c in opens)
        before = segments.sentences[sentence.number - 1] if sentence.number else sentence
        told = any(
            found[c.number].mood == "history" and not EARLIER_TOO.isdisjoint(x.list for x in inside[c.number])
            for c in segments.clauses_of(before)
        )
        if not named and not (pointed and told):
            continue
        for clause in clauses:
            held, said = found[clause.number], words[clause.start : clause.end]
            if _now(inside[clause.number]) or not (OURS | PRESENT).isdisjoint(said) or said[0] == "but":
                break
            if held.mood == "performed":
                found[clause.number] = Assertion("history", held.negated, held.ahead, sentence.start)


def told_with(clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'A meniscectomy two years ago, and the tourniquet was up for 40 minutes': the minutes are of that operation."""
    if any("now" in clause.lists for clause in clauses):
        return
    for clause, after in zip(clauses, clauses[1:], strict=False):
        here, there = found[clause.number], found[after.number]
        of_operation = here.mood == "history" and clause.lists & {*EARLIER, "told-with"}
        told = "told-with" in after.lists and any(c.key in TOLD_WITH for c in inside[after.number])
        if of_operation and told and there.mood == "performed":
            if not OURS & after.said:
                found[after.number] = Assertion("history", there.negated, there.ahead, here.cue)


def _now(own: list[Concept]) -> bool:
    return any(c.list in {"now", "this-case"} for c in own)


def goes_on(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'I operated on him in 2020 | and trephined the rim': the same deed-doer went on at that operation.

    What was found there, or is told with a subject of its own or of today, is none of it.
    """
    for clause in segments.clauses[1:]:
        before = segments.clauses[clause.number - 1]
        held = found[clause.number]
        if held.mood != "performed" or words[clause.start] != "and" or found[before.number].mood != "history":
            continue
        said = words[before.start : before.end]
        dated = not TIMES.isdisjoint(said) or any(len(w) == YEAR and w.isdigit() for w in said)
        verb = words[clause.start + 1 : clause.start + 2]
        past = bool(verb) and (
            verb[0] in PAST_OR_HELPING - HELPING or (verb[0].endswith("ed") and len(verb[0]) >= YEAR)
        )
        lists = clause.lists
        if dated and past and verbal(words, before) and lists & DEEDS and "finding" not in lists:
            if not _now(inside[clause.number]):
                found[clause.number] = Assertion("history", held.negated, held.ahead, found[before.number].cue)


def back_then(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'He had a meniscectomy four years ago. The ACL was rebuilt at that time': then, in the sentence behind.

    Only the clause that says so is of then. What opens with it ('At that time the tourniquet ...') goes on with the
    telling, and so does whoever dictates ('we at that time ...').
    """
    past: list[Assertion] = []
    for sentence in segments.sentences:
        clauses = segments.clauses_of(sentence)
        if words[sentence.start : sentence.end] == ["."]:
            continue
        cue = past[0].cue if past else None
        for clause in clauses if past else ():
            held, said = found[clause.number], words[clause.start : clause.end]
            then = any(
                c.key == "told-with:one-of-them" or (c.key == "told-with:then" and c.start > clause.start + 1)
                for c in inside[clause.number]
            )
            second = words[sentence.start + 1 : sentence.start + 2]
            opens = words[sentence.start] == "there" and not THERE.isdisjoint(second)
            then = then or (opens and clause.start < sentence.start + THERE_WITHIN)
            if then and held.mood == "performed" and OURS.isdisjoint(said) and not _now(inside[clause.number]):
                found[clause.number] = Assertion("history", held.negated, held.ahead, cue)
        past = [
            found[c.number]
            for c in clauses
            if found[c.number].mood == "history" and not EARLIER_TOO.isdisjoint(x.list for x in inside[c.number])
        ]


def told_of_then(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """What is told on of an earlier operation in its sentence: who did it, when, and what it was."""
    by_date(segments, inside, found, words)
    at_the_end(segments, inside, found, words)
    done_by_another(segments, inside, found, words)
    what_it_was(segments, inside, found, words)


def done_by_another(
    segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> None:
    """'A root repair three years ago, | my partner did it, | the tunnel was six': who did it then, and what was.

    Behind whoever did it the sentence goes on at that operation, until somebody of today acts or is told of.
    """
    for sentence in segments.sentences:
        if not DONE_BY <= sentence.lists:
            continue
        then: Assertion | None = None
        earlier = False
        for clause in segments.clauses_of(sentence):
            own, held = inside[clause.number], found[clause.number]
            lists = {c.list for c in own}
            if held.mood == "history":
                earlier = earlier or not lists.isdisjoint(EARLIER)
                continue
            today = _now(own) or not OURS.isdisjoint(clause.said)
            if held.mood != "performed" or today or "finding" in lists:
                then, earlier = None, False
            elif earlier and "bystander" in lists and "doing" in lists and lists.isdisjoint(DEEDS):
                then = Assertion("history", cue=clause.start)
            if then:
                found[clause.number] = Assertion("history", held.negated, held.ahead, then.cue)


def by_the_paper(segments: Segmentation, found: list[Assertion], words: list[str]) -> None:
    """'Three millimeters, correction, | the paper says two': what puts a number right tells of this case."""
    for before, clause in zip(segments.clauses, segments.clauses[1:], strict=False):
        held = found[clause.number]
        if held.mood in {"habit", "history"} and put_right(words, before.start, before.end):
            found[clause.number] = Assertion("performed", held.negated, held.ahead)


def in_his_twenties(
    segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> None:
    """'In his twenties a colleague resected half of it': what opens with an age then tells of then.

    So does what was done, with such an age behind it: 'he had a repair on the right in his twenties'. 'A lady in her
    thirties' is as old today.
    """
    for clause in [c for c in segments.clauses if not DECADES.isdisjoint(c.said)]:
        said = [w for w in words[clause.start : clause.end] if w.isalpha()]
        aged = said[-3:-2] == ["in"] or said[-4:-3] == ["in"]
        if not aged or said[-1] not in DECADES or found[clause.number].mood != "performed":
            continue
        lists = clause.lists
        if not HAD.isdisjoint(said) and OURS.isdisjoint(said) and not lists.isdisjoint(EARLIER_TOO - {"joint"}):
            if "finding" not in lists:
                found[clause.number] = Assertion("history", found[clause.number].negated, None, clause.start)
    for sentence in segments.sentences:
        opening = words[sentence.start : sentence.start + LED_IN_AGE]
        age = next((w for w in opening[2:] if w in DECADES), None)
        if opening[:1] != ["in"] or opening[1:2] not in (["his"], ["her"], ["their"]) or age is None:
            continue
        for clause in segments.clauses_of(sentence):
            held = found[clause.number]
            if not OURS.isdisjoint(clause.said):
                break
            if held.mood == "performed":
                found[clause.number] = Assertion("history", held.negated, held.ahead, sentence.start)


def until_today(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion]) -> None:
    """'Last year the right, | today the left knee': what opens with 'today' goes on with no account of then.

    Nor is what opens with 'mine' of the habit of others: 'he spaces them at three, | mine came out at five'.
    """
    for clause in segments.clauses:
        held = found[clause.number]
        if held.mood == "habit" and any(
            c.name == "own-ones" and c.start <= clause.start + 1 for c in inside[clause.number]
        ):
            found[clause.number] = Assertion("performed", held.negated, held.ahead)
        if held.mood == "history" and (held.cue is None or held.cue < clause.start):
            if any(c.list == "now" and c.start <= clause.start + 1 for c in inside[clause.number]):
                found[clause.number] = Assertion("performed", held.negated, held.ahead)


def scanned_lately(
    segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> None:
    """'On the scan of last month the meniscus was extruded by two millimeters': read off a scan, that is so today.

    Not where years have gone by, or an operation is told of beside it.
    """
    for clause in segments.clauses:
        if found[clause.number].mood != "history" or not {SCAN, READ_OFF} <= {c.name for c in inside[clause.number]}:
            continue
        worked = not clause.lists.isdisjoint({"operation", "then-too", "told-with"})
        if not worked and YEARS.isdisjoint(clause.said):
            held = found[clause.number]
            found[clause.number] = Assertion("performed", held.negated, held.ahead)
