"""Where thoughts part in speech without punctuation: at actions, sizes, and findings told without a verb."""

from __future__ import annotations

from bisect import bisect_left, bisect_right

from extractor.grammar.packs import Grammar
from extractor.language.clause_words import (
    CONNECTORS,
    DENIERS,
    DETERMINERS,
    FINAL,
    FINITE,
    LEADS,
    PAUSES,
    PREPOSITIONS,
    PRONOUNS,
    SENTENCE_END,
)
from extractor.language.concepts import Concept

Stretch = tuple[int, int]
"""Tokens `[start, end)`."""
HAD_WITHIN = 7
"""Words from 'I had the ...' to what was done to it, at most."""
DENIED_WITHIN = 4
"""Words from a 'no' to the next verb that has an object of its own, at most."""
NOTS = frozenset({"not", "n't", "never"})
SPEAKERS = (["we"], ["i"])
DENIED_AHEAD = 3
"""Words from 'we' to its 'not', at most."""
LINK = 4
TURNS = (
    ["over", "to"],
    ["moving", "to"],
    ["moving", "on"],
    ["moving", "over"],
    ["turning", "to"],
    ["on", "to"],
    ["why", "not"],
)
"""Words with which the talk turns to something else."""
SUBJECTS = DETERMINERS | PRONOUNS
WHOSE = PRONOUNS | {"my", "our"}
WHEN_DONE = (
    ["by", "then"],
    ["by", "now"],
    ["by", "this", "time"],
    ["by", "that", "time"],
    ["at", "that", "point"],
    ["at", "this", "point"],
    ["at", "that", "stage"],
    ["at", "this", "stage"],
    ["in", "the", "meantime"],
    ["in", "the", "meanwhile"],
    ["meanwhile"],
    ["after", "that"],
    ["after", "this"],
)
"""Words that say when, before the subject of a new thought."""
OBJECTS = DETERMINERS | {"it", "them"}
"""Words that open what a verb is done to."""
OPENING = frozenset({"action", "tie", "weight-bearing-status"})
"""Lists whose words open a clause where no punctuation does: '... brace given | full weight bearing from tomorrow'."""
PUT = frozenset({"on", "off"})
WORN = frozenset({"brace", "dress", "brace-on", "tourniquet"})
LED = LEADS | FINITE | DETERMINERS | PREPOSITIONS | CONNECTORS
"""Words after which what follows goes on with them."""
TO_VERB = 4
"""Words from a participle back to its verb, at most: 'was prepped and draped', 'was completely torn'."""
BESIDE_VERB = frozenset({"been", "being", "also", "then", "all", "both", "quite", "nearly", "almost", "and", "now"})
CONTRASTING = frozenset({"just", "only", "merely", "simply"})
"""Behind a denial these open what was done."""
JUST = 3
"""Words from one of them to the deed, at most: 'just a quick', 'only the'."""
DENIED_FROM = 20
"""Words before it in which the denial stands."""
DONE = frozenset({"action", "operation", "technique", "verb"})
HAVING = frozenset({"had", "has", "have"})
PLACES = frozenset({"region", "compartment", "bone", "surface"})
NAMED = PLACES | {"thing", "tissue"}
GLUE = frozenset({"of", "was", "is", "at", "about", "to"})
"""Plain words between what is measured and its size."""
MOST_GLUE = 2
FROM_TO = 13
"""Words from a 'from' to the distance that is told behind where it ends, at most."""
HEDGES = frozenset({"maybe", "perhaps", "roughly", "around", "approximately", "say", "some", "under", "over", "only"})
BY = frozenset({"by", "x"})
ENTRIES = frozenset({"blood_loss"})
"""Headings that open an entry of their own where their number stands right behind."""
NOUNS = frozenset({"thing", "structure", "tissue", "form", "joint", "device", "bone"})
"""Lists whose words stand before an action as its subject: '| rim rasped'."""


def places_ahead(words: list[str], concepts: list[Concept]) -> dict[int, int]:
    """Where a place opens that the surface said next is of: 'a white suture | at the front end the top one is'."""
    surfaces = {c.start for c in concepts if c.list == "surface"}
    found = {}
    for c in concepts:
        if c.list == "region" and c.start > 1 and c.end + 1 in surfaces and words[c.end] in DETERMINERS:
            opens = c.start - (words[c.start - 1] in DETERMINERS) - 1
            if words[opens] in PREPOSITIONS:
                found[c.end] = opens
    return found


LEFT_BE = (["let", "it", "be"], ["let", "them", "be"], ["let", "that", "be"])


def close_final(words: list[str], level: list[int], start: int, stop: int) -> None:
    """'... did not catch anymore | lateral femoral condyle ...': what ends with a word that is said last."""
    for i in range(start, stop - 1):
        idle = i > start + 1 and words[i - 2 : i + 1] in LEFT_BE  # 'but today I let it be | irrigated and closed'
        if words[i] in FINAL or idle or (i > start and words[i - 1 : i + 1] == ["at", "all"]):
            level[i + 1] = max(level[i + 1], 1)


def pressures_close(
    words: list[str], measured: set[int], level: list[int], start: int, stop: int, grammar: Grammar
) -> None:
    """Nothing is of a pressure in mercury: '... two fifty millimeters of mercury | portals and a look'."""
    mercury = grammar.plain_words("mercury")
    for i in range(start + 1, stop):
        if i in measured and words[i - 1] in mercury and words[i].isalpha() and words[i] not in PREPOSITIONS:
            level[i] = max(level[i], 1)


def turns_open(words: list[str], level: list[int], start: int, stop: int, grammar: Grammar) -> None:
    """'... from the posterior root | over to the back table ...': where the speaker says that the talk turns.

    So does what says when it was, before its subject: '... is ten millimeters | by then the graft was thawed'. Not so
    behind a verb of going: 'I switched over to outside in'.
    """
    led = LED | grammar.plain_words("goes-over")
    for i in range(start + 1, stop - 2):
        if words[i : i + 2] in TURNS and words[i - 1] not in led:
            level[i] = 3
        for said in WHEN_DONE:
            after = words[i + len(said) : i + len(said) + 1]
            if words[i : i + len(said)] == said and words[i - 1] not in led and not SUBJECTS.isdisjoint(after):
                level[i] = 3
        if words[i] == "then" and words[i + 1] in WHOSE and words[i - 1] not in led:
            level[i] = 3


def chained(words: list[str], level: list[int], start: int, stop: int) -> None:
    """'... and then ... and then ...': in a chain without end each link is a sentence of its own."""
    last = start
    for i in range(start + 1, stop - 1):
        if words[i] == "and" and words[i + 1] == "then" and i - last >= LINK:
            level[i] = 3
        if level[i] == 3:
            last = i


def actions_open(
    words: list[str], concepts: list[Concept], level: list[int], start: int, stop: int, grammar: Grammar
) -> None:
    """Without punctuation an action that nothing leads up to opens a clause: 'stays shut | took the knee'."""
    singular = grammar.plain_words("singular-unit")
    nouns = {c.end: c.start for c in concepts if c.list in NOUNS}
    led_by = {c.start for c in concepts if c.list in NOUNS}  # '... trim the graft | tourniquet off': its own subject
    devices = {(c.start, c.end) for c in concepts if c.list == "device"}
    worn = {c.end - (words[c.end - 1] in PUT) for c in concepts if c.name in WORN}
    loads = {c.end for c in concepts if c.key == "thing:weight-bearing"}  # 'not touch down partial weight bearing'
    for c in concepts:
        if c.list not in OPENING or not start < c.start < stop or words[c.start] in FINITE:
            continue  # '... the rim | was taken down' is no opening
        if (c.start, c.end) in devices:
            continue  # nor 'a ten by twenty-eight | screw', which is also a verb
        at = c.start
        subject = (c.list == "action" and c.start not in led_by) or c.start in loads
        while subject and nouns.get(at, -1) > start and (at == c.start or words[nouns[at] - 1] not in DENIERS):
            at = nouns[at]  # '... no loose bodies | tear trimmed'
        past = words[c.start].endswith("ed")
        own = not OBJECTS.isdisjoint(words[c.start + 1 : c.end + 1])
        if c.list == "tie" and not (past and own):
            continue  # 'white | tied to blue'
        if past and own and DENIERS & set(words[max(start, c.start - DENIED_WITHIN) : c.start]):
            at = c.start  # 'no outside-in stitch | probed the whole thing'
        elif words[at - 1] in DENIERS and at < c.start and past:
            continue  # 'no graft trimmed'
        elif words[at - 1] in DENIERS and not past and at > start + 1:
            at -= 1
        if past and _had_done(words, max(start, at - HAD_WITHIN), at):
            continue
        if words[c.end : c.end + 1] in SPEAKERS and not NOTS.isdisjoint(words[c.end + 1 : c.end + 1 + DENIED_AHEAD]):
            behind = next((i for i in range(c.end + 1, stop) if level[i] >= 1), stop)
            level[c.start], level[c.end], level[behind] = 3, 1, 3  # 'clot | we didn't use | then bent it'
        before = words[at - 1]
        attribute = at < c.start and before in singular  # 'a six centimeter incision opened'
        put_on = before in PUT and at - 1 in worn  # 'dressing on | brace on | toe touch weight bearing'
        if (before not in LED or put_on) and not attribute and not before.endswith("ly"):
            level[at] = max(level[at], 1)


def _had_done(words: list[str], start: int, at: int) -> bool:
    """'I had the needles opened': what somebody had done to a thing opens nothing."""
    return any(
        words[i] in HAVING | {"got"} and words[i - 1] in PRONOUNS and words[i + 1] in DETERMINERS
        for i in range(start + 1, at - 1)
    )


def last_thing(things: dict[int, Concept], verb: int) -> int | None:
    """'... out the cannula | graft was thawed', 'brace locked | cuff was let down': of two things the last is meant."""
    own = things.get(verb)
    before = things.get(own.start) if own else None
    return own.start if own and before and own.name != before.name else None


def behind_verb(words: list[str], at: int) -> bool:
    """Whether the participle at a token goes on with a verb before it: 'was completely torn', 'was prepped and draped'.

    What follows it is then no part of the same noun.
    """
    if at and words[at - 1] in HAVING:
        return False  # 'the stitch we had passed | was not tight'
    for i in range(at - 1, max(-1, at - 1 - TO_VERB), -1):
        if words[i] in FINITE:
            return True
        if words[i] not in BESIDE_VERB and not words[i].endswith(("ly", "ed")):
            return False
    return False


def sizes_closed(words: list[str], concepts: list[Concept], fixed: list[Stretch], grammar: Grammar) -> set[int]:
    """Tokens right behind a size in the plural, where a noun is a new subject: '... sixty millimeters | portals were'.

    A device keeps the size before it, and so does what an article opens: 'the fifty degrees guide was set'.
    """
    devices = {c.start for c in concepts if c.list == "device"}
    plural = grammar.plain_words("plural-unit")
    return {
        b
        for a, b in fixed
        if words[b - 1] in plural and b not in devices and (not a or words[a - 1] not in DETERMINERS)
    }


def within_runs(runs: list[Stretch], concepts: list[Concept]) -> list[list[Concept]]:
    """The concepts that open in each of the stretches, which follow one another."""
    if not runs:
        return []
    found: list[list[Concept]] = [[] for _ in runs]
    starts = [start for start, _ in runs]
    for c in concepts:
        at = bisect_right(starts, c.start) - 1
        if at >= 0 and c.start < runs[at][1]:
            found[at].append(c)
    return found


def contrasts_open(words: list[str], concepts: list[Concept], level: list[int]) -> None:
    """'We did not resect the tear | just a repair': behind a denial opens what was done.

    Something done must be named on both sides: 'not just trimmed', 'not tied only in front'.
    """
    deeds = sorted({c.start for c in concepts if c.list in DONE})
    said = sorted({*deeds, *(c.start for c in concepts if c.list == "doing")})
    for at in deeds:
        opens = next((i for i in range(max(1, at - JUST), at) if words[i] in CONTRASTING), None)
        if opens is None or not all(w in DETERMINERS for w in words[opens + 1 : at]):
            continue
        if level[opens] or (words[opens - 1] in NOTS | DENIERS):
            continue
        start = next(
            (i for i in range(opens - 1, max(0, opens - DENIED_FROM), -1) if level[i]), max(0, opens - DENIED_FROM)
        )
        denied = next((i for i in range(start, opens) if words[i] in NOTS | DENIERS), None)
        if denied is not None and bisect_right(said, denied) < bisect_left(said, opens):
            level[opens] = 1


def statements_open(
    words: list[str],
    concepts: list[Concept],
    fixed: list[Stretch],
    runs: list[Stretch],
    level: list[int],
    grammar: Grammar,
) -> None:
    """'... lateral meniscus intact | ACL intact | patella grade two | trochlea grade one': findings without a verb.

    Args:
        words: reading tokens.
        concepts: what was found in them.
        fixed: spans of quantities.
        runs: stretches of speech without punctuation; elsewhere one finding must stand right behind another.
        level: what opens at each token, written to.
        grammar: the packs that read the note.
    """
    said = {c.start for c in concepts if c.list == "finding" and _is_stated(words, c, grammar)}
    graded = {c.start for c in concepts if c.list in {"grade-system", "grade-word"}}
    named = {c.end for c in concepts if c.list == "structure"}
    closed = {c.end for c in concepts if c.list == "finding"} | {b for _, b in fixed}
    starts = [start for start, _ in runs]
    for c in concepts:
        if c.list != "structure" or not (c.end in said or c.end in graded) or c.start in named:
            continue
        at = c.start - (c.start > 1 and words[c.start - 1] in ("the", "both"))
        if at < 1 or words[at - 1] in DENIERS or words[at - 1] in PAUSES or words[at - 1] in SENTENCE_END:
            continue
        run_on = _is_within(at, runs, starts)
        if at in closed or (run_on and at == c.start and c.end in said and words[at - 1] not in LED):
            level[at] = max(level[at], 3 if run_on else 1)
    for c in concepts:
        at = c.start - 1  # '... grade one | no loose bodies'
        if c.list == "finding" and at in closed and words[at] in DENIERS and _is_within(at, runs, starts):
            level[at] = max(level[at], 1)


def _is_within(at: int, runs: list[Stretch], starts: list[int]) -> bool:
    run = bisect_right(starts, at) - 1
    return run >= 0 and at < runs[run][1]


def _is_stated(words: list[str], finding: Concept, grammar: Grammar) -> bool:
    first = words[finding.start]
    stated = finding.key in grammar.concepts_in("stated") or first in grammar.plain_words("stated-so")
    return stated or first.endswith("ed")


def sizes_open(
    words: list[str],
    concepts: list[Concept],
    fixed: list[Stretch],
    level: list[int],
    start: int,
    stop: int,
    grammar: Grammar,
) -> None:
    """'At fifty degrees | tunnel length forty millimeters', '... fifty long | anterior one six', '| blood loss ten'.

    Behind a size opens what has a size of its own, and 'the other one' of what was measured.
    """
    plural, numbered = grammar.plain_words("plural-unit"), grammar.plain_words("bears-number")
    sized = {c.start: c.end for c in concepts if c.list == "dimension"}
    nouns = {c.start: c for c in concepts if c.list in NAMED}
    own = fixed[bisect_left(fixed, (start, 0)) : bisect_left(fixed, (stop, 0))]
    numbers = {a for a, _ in own}
    for _, b in own:
        at = sized.get(b, b)
        if not start < at < stop or words[b - 1] not in plural or at not in nouns:
            continue
        end = nouns[at].end
        other = nouns[at].list in PLACES and words[end : end + 1] == ["one"]
        while end in nouns:
            end = nouns[end].end
        if other or _has_number(words, numbers, sized.get(end, end)):
            level[at] = max(level[at], 1)
        elif at > b and nouns[at].list in {"thing", "tissue"} and end < stop and _goes_on_anew(words[end], numbered):
            level[at] = 3  # '... seven millimeters off the posterior root | graft on the back table'
    devices = {c.start for c in concepts if c.list == "device"}
    opens = {b: a for a, b in own}
    for a, b in own:
        a = opens.get(a - 1, a) if words[a - 1] in BY else a
        if a > start and b in devices and words[a - 1].endswith("ed"):
            level[a] = max(level[a], 1)  # '... button flipped | eight by twenty-five screw in the tibia'
    _distances_open(words, own, level)
    hardly_any = grammar.plain_words("hardly-any")
    for c in concepts:
        entry = c.list == "heading" and c.name in ENTRIES
        timed = c.key == "thing:tourniquet" and words[c.end - 1] == "time"
        if not (entry or timed) or not start < c.start < stop or words[c.start - 1] in LED:
            continue
        at = c.end + (words[c.end] in GLUE)
        none = words[at] in hardly_any
        if none or _has_number(words, numbers, c.end):
            level[c.start] = max(level[c.start], 1)
        if none and at + 1 < stop:
            level[at + 1] = max(level[at + 1], 1)  # 'blood loss minimal | twenty cc of local went in'


def _distances_open(words: list[str], sizes: list[Stretch], level: list[int]) -> None:
    """'The gap runs twenty along the rim | from the rim in to the free edge it's ten': what each is from and to."""
    for (_, end), (start, _) in zip(sizes, sizes[1:], strict=False):
        opens = next((i for i in range(start - 1, end, -1) if words[i] == "from"), None)
        told = words[start - 2 : start] in (["it", "'s"], ["it", "is"], ["it", "was"], ["i", "get"], ["we", "get"])
        if opens is not None and told and "to" in words[opens:start] and start - opens <= FROM_TO:
            level[opens] = max(level[opens], 1)


def _goes_on_anew(word: str, numbered: frozenset[str]) -> bool:
    """Whether a word behind a thing tells of it: '... nine millimeters deep | graft number ...', 'graft thawed'."""
    return word in PREPOSITIONS | FINITE or word in numbered or word.endswith("ed")


def _has_number(words: list[str], numbers: set[int], at: int) -> bool:
    for i in range(at, at + MOST_GLUE + 1):
        if i in numbers:
            return True
        if words[i : i + 1] == [] or words[i] not in GLUE | HEDGES:
            return False
    return False
