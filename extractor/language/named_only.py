"""Deeds that a clause only names as a thing, of which nothing says that it was done.

'We were set up for outside-in', 'the rasp was on the field', 'this looked like an outside-in job', 'we let the
outside-in go'. The phrases stand in the lists `readied-for`, `looks-like`, `in-the-room`, `let-go` and `deed-ground`;
this module says where a deed must stand beside them.
"""

from __future__ import annotations

from extractor.grammar.packs import Grammar
from extractor.language.asserted import Assertion
from extractor.language.clause_words import DETERMINERS, PAUSES, REPLACING
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.named_deeds import named_deeds
from extractor.language.on_a_form import on_a_form
from extractor.language.verbs import verbal

DEEDS = frozenset({"action", "operation", "technique", "brought"})
WAYS = frozenset({"technique", "brought"})
"""What is never the verb of its clause: of these a weaker word will do."""
BETWEEN = frozenset({
    "was", "were", "is", "are", "be", "been", "had", "has", "all", "there", "just", "only", "still", "always", "ready",
    "lay", "lying", "lies", "stood", "standing", "stands", "sat", "sitting", "sits", "waiting", "waited", "waits",
    "stayed", "stays", "remained", "kept", "open", "sterile", "out", "over", "along", "and",
})  # fmt: skip
"""Words that may stand between a thing and the place in the room where it lay."""
LAY_WITHIN = 6
FOR_WITHIN = 6
"""Words from what was made ready to the 'for' and the deed, at most."""
OWN = DETERMINERS | {"possible", "single", "extra", "additional", "further", "second", "quick", "small", "bit", "of"}
"""Words that may stand between a 'for' and its deed."""
GENERIC = frozenset({"a", "an"})
NOTHING = frozenset({"nothing", "nobody"})
RELATIVE = frozenset({"that", "which", "to", "for"})
HYPOTHESIS = frozenset({"would", "could", "might"})
EXPECTING = frozenset({"expected", "anticipated", "feared", "reckoned", "figured", "expecting", "anticipating"})
WE = frozenset({"i", "we"})
LED = frozenset({"so", "and", "but", "also", "had", "'d", "did", "was", "were", "fully", "really", "half"})
SPEAKS = 4
"""Words from the start of a clause in which somebody expects, at most."""
ARTICLES = frozenset({"the", "any", "another", "my", "our", "that", "this"})
ADJECTIVES = frozenset({
    "single", "extra", "additional", "further", "second", "quick", "small", "supplementary", "classic", "classical",
    "formal", "simple", "proper", "short", "last", "more", "planned", "usual",
})  # fmt: skip
BEING = frozenset({"was", "were", "is", "are", "be", "became", "been", "'s"})
SETS = frozenset("set sets tray kit awl awls pick picks instruments instrument gun drill".split())
"""Behind a deed these name the tool for it: 'a microfracture awl'."""
HAVING = frozenset({"had", "have", "has", "got"})
IN_HAND = frozenset({"at-hand", "made-ready", "in-the-room"})
USES = frozenset({"verb:perforating", "thing:hole", "cue:marrow-out", "action:vent"})
USE_WITHIN = 2
"""Clauses behind in which a tool in hand may be used, at most."""
MEANT_IT = frozenset({"had", "have", "has", "managed", "decided", "chose", "opted", "elected", "went", "proceeded"})
"""Verbs whose 'to' tells of a deed done."""
GOES_ON = frozenset({"and", "which"})
NOT_USED = frozenset({"negation", "negation-ahead", "wasted"})


def named_only(
    segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str], grammar: Grammar
) -> None:
    """Have a clause thought of where it only names its deed."""
    grounds, tools = grammar.plain_words("deed-ground"), grammar.plain_words("hand-tool")
    for clause in segments.clauses:
        held, own = found[clause.number], inside[clause.number]
        if not held.done:
            continue
        deeds = [c for c in own if c.list in DEEDS and not words[c.end - 1].endswith("ed")]
        if not deeds:
            continue
        if _gone(deeds, own, words):
            found[clause.number] = Assertion("performed", True, None, clause.start)
            continue
        named = _readied(deeds, own, words) or _lay_there(deeds, own, words, tools) or _alike(deeds, own, words)
        named = named or _handled(clause, deeds, segments, inside, words, tools)
        named = named or _is_a(clause, deeds, words) or _expected(clause, deeds, words)
        named = named or _only_spoken(clause, deeds, own, words, grammar) or on_a_form(clause, deeds, words, grammar)
        named = named or any(words[c.end] in grounds for c in deeds if c.list in WAYS and c.end < clause.end)
        if named and not _used(clause, segments, inside, found, words):
            found[clause.number] = Assertion("considered", False, None, clause.start)
    named_deeds(segments, inside, found, words, grammar)


def _gone(deeds: list[Concept], own: list[Concept], words: list[str]) -> bool:
    """'The outside-in was let go', 'we let the outside-in go'; never of a cuff, whose air one lets go."""
    for cue in (c for c in own if c.list == "let-go"):
        for deed in (d for d in deeds if d.list in WAYS):
            between = words[deed.end : cue.start]
            if cue.name == "gone" and deed.end <= cue.start and BETWEEN.issuperset(between):
                return True
            if cue.name == "let" and cue.end <= deed.start and words[deed.end : deed.end + 1] == ["go"]:
                return OWN.issuperset(words[cue.end : deed.start])
    return False


def _readied(deeds: list[Concept], own: list[Concept], words: list[str]) -> bool:
    """'Set up for an outside-in', 'the needle was to hand for one': for which deed something was ready."""
    for cue in (c for c in own if c.list in {"readied-for", "in-the-room"}):
        for deed in deeds:
            if cue.end > deed.start or deed.start - cue.end > FOR_WITHIN:
                continue
            lead = deed.start - 1
            while lead >= cue.end and words[lead] in OWN:
                lead -= 1
            sure = cue.name == "set-up" or deed.list in WAYS
            if sure and lead >= cue.end and words[lead] == "for":
                return True
    return False


def _lay_there(deeds: list[Concept], own: list[Concept], words: list[str], tools: frozenset[str]) -> bool:
    """'The rasp was on the field', 'with the outside-in ready on the stand'."""
    ends = {c.end for c in deeds if c.list in WAYS or words[c.end - 1] in tools}
    ends |= {c.end + 1 for c in deeds if _has_set(words, c)}  # 'a microfracture set was on the table'
    for cue in (c for c in own if c.list in {"in-the-room", "made-ready"}):
        near = [end for end in ends if end <= cue.start and cue.start - end <= LAY_WITHIN]
        if any(BETWEEN.issuperset(words[end : cue.start]) for end in near):
            return True
    return False


def _has_set(words: list[str], deed: Concept) -> bool:
    """Whether the tool for a deed is named behind it."""
    return not SETS.isdisjoint(words[deed.end : deed.end + 1])


def _handled(
    clause: Span,
    deeds: list[Concept],
    segments: Segmentation,
    inside: list[list[Concept]],
    words: list[str],
    tools: frozenset[str],
) -> bool:
    """'I had the awl opened', 'the awl was handed to me': a tool in hand, and nothing that was done with it."""
    named = [c for c in deeds if c.list == "action"]
    if not named or not all(words[c.end - 1] in tools or _has_set(words, c) for c in named):
        return False
    ends = {c.end + _has_set(words, c) for c in named}
    cues = [c.start for c in inside[clause.number] if c.list in IN_HAND]
    near = [(end, at) for end in ends for at in cues if end <= at <= end + LAY_WITHIN]
    had = not HAVING.isdisjoint(words[clause.start : min(ends)])  # 'an eight millimeter drill | opened the slot'
    if not any(BETWEEN.issuperset(words[a:b]) and (had or not BEING.isdisjoint(words[a : b + 1])) for a, b in near):
        return False
    sentence = segments.sentence_at(clause.start)
    then = [c for c in segments.clauses[clause.number : clause.number + 1 + USE_WITHIN] if c.end <= sentence.end]
    return not any(c.key in USES for part in then for c in inside[part.number])


def _alike(deeds: list[Concept], own: list[Concept], words: list[str]) -> bool:
    """'This looked like an outside-in', 'the flap looked as if it wanted trimming'."""
    cues = [c for c in own if c.list == "looks-like"]
    return any(c.end <= d.start and OWN.issuperset(words[c.end : d.start]) for c in cues for d in deeds)


def _is_a(clause: Span, deeds: list[Concept], words: list[str]) -> bool:
    """'An outside-in is a nuisance in a heavy leg': what holds of any of them."""
    first = next((c for c in deeds if c.list in WAYS), None)
    if first is None or words[clause.start] not in GENERIC or first.start != clause.start + 1:
        return False
    behind = words[first.end : first.end + 2]
    return behind[:1] == ["is"] and behind[1:] in (["a"], ["an"], ["always"], ["never"], ["not"], ["no"])


def _expected(clause: Span, deeds: list[Concept], words: list[str]) -> bool:
    """'I expected to end up with an outside-in': it is told behind where it was so."""
    lead = next((i for i in range(clause.start, min(clause.start + SPEAKS, clause.end)) if words[i] in EXPECTING), None)
    if lead is None or WE.isdisjoint(words[clause.start : lead]):
        return False
    if not (WE | LED).issuperset(words[clause.start : lead]):
        return False
    behind = words[lead + 1 : lead + 2]
    return behind in (["to"], ["a"], ["an"], ["one"]) and any(c.start > lead for c in deeds)


def _only_spoken(clause: Span, deeds: list[Concept], own: list[Concept], words: list[str], grammar: Grammar) -> bool:
    """'My chief swears by an outside-in': one of them is named, and its verb is none by which it would be done.

    Without a verb it is told ('in front a single outside-in'), as it is where 'it was' one.
    """
    ways = [c for c in deeds if c.list == "technique"]
    evidence, made = grammar.plain_words("stitch-evidence"), grammar.plain_words("made-that-way")
    affirmed = any(c.list == "affirmed" for c in own)  # 'no way round an outside-in'
    if affirmed or not ways or len({c.name for c in ways}) > 1 or not verbal(words, clause):
        return False
    way = ways[0]
    at = way.start - 1
    while at > clause.start and words[at] in ADJECTIVES:
        at -= 1
    one = at >= clause.start and words[at] in ARTICLES | GENERIC and words[at - 1] not in {"from", "it", "with"}
    bare = way.end >= clause.end or words[way.end] not in made
    if not one or (words[at] not in GENERIC and not bare):
        return False
    if words[at - 1] in BEING and words[clause.start] not in GENERIC or words[way.end : way.end + 2] == ["it", "was"]:
        return False
    if evidence.isdisjoint(clause.said):
        return True
    return not any(words[i] in evidence and _told(words, i, clause) for i in range(clause.start, clause.end))


def _told(words: list[str], at: int, clause: Span) -> bool:
    """Whether a verb tells of what was done: not 'tempted to put', but 'had to put'."""
    to = at - 1 if words[at - 1] != "be" else at - 2
    return to <= clause.start or words[to] != "to" or words[to - 1] in MEANT_IT


def _used(
    clause: Span, segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> bool:
    """'... was on the field | and was used for two stitches': it was used, as its sentence goes on to say."""
    if "put-to-use" in clause.lists:
        return True
    sentence = segments.sentence_at(clause.start)
    after = next((c for c in segments.clauses[clause.number + 1 : clause.number + 2] if c.end <= sentence.end), None)
    if after is None or words[after.start] not in GOES_ON or not found[after.number].done:
        return False
    own = inside[after.number]
    return NOT_USED.isdisjoint(c.list for c in own) and any(
        c.list == "put-to-use" and c.start <= after.start + 1 for c in own
    )


def used_after_all(
    segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> None:
    """'The set was on the field | and was used for two stitches', '... planned, | and two sufficed': done as told."""
    for clause in segments.clauses:
        held = found[clause.number]
        thought = held.mood in {"considered", "planned"} and not held.negated
        if thought and _used(clause, segments, inside, found, words):
            found[clause.number] = Assertion("performed", False, None, held.cue)


def of_nothing(
    clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> None:
    """'Nothing in front | that needed an outside-in', 'rather than | the outside-in we had booked': denied as well."""
    for clause, after in zip(clauses, clauses[1:], strict=False):
        held, then = found[clause.number], found[after.number]
        if not then.done:
            continue
        ends = held.ahead is not None and held.ahead == clause.end - 1 and words[held.ahead] in REPLACING
        nothing = words[clause.start] in NOTHING and held.negated and not verbal(words, clause)
        hangs = words[after.start] in RELATIVE and words[clause.end - 1] not in PAUSES
        if (ends and words[after.start] in DETERMINERS) or (nothing and hangs):
            found[after.number] = Assertion("performed", True, None, held.cue)
