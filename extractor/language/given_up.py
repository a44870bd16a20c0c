"""What was tried and came to nothing, and what was opened or brought and never used.

'I tried an outside-in stitch, | could not get the needle through', 'a button was opened | and binned'. The words stand
in the lists `trying`, `failing`, `succeeding` and `wasted`; this module says what they are said of.
"""

from __future__ import annotations

from extractor.grammar.packs import Grammar
from extractor.language.asserted import CONTENT, Assertion
from extractor.language.clause_words import FINITE
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.laid_out import goes_on_unreal, went_back
from extractor.language.let_drop import let_drop
from extractor.language.undone import is_of_another
from extractor.language.verbs import verbal

DEEDS = frozenset({"action", "operation", "technique"})
TAKEN_UP = frozenset({"cue", "thing", "form", "brought", "verb"})
"""Lists of what may be in hand, and then put down again."""
OUTCOME = 3
"""Clauses behind a trial that may tell what came of it."""
IMPLANT = "all-inside-implant"
"""A device that is a stitch as well."""
BROUGHT = frozenset({"device", "tool", "form", "color", "technique", "stitch-noun", "brought"})
"""Lists of what may be brought to the table."""
LAID = frozenset({"tie", "technique", "form", "device", "color"})
"""Lists of what can be undone again."""
READY = frozenset({"at-hand", "made-ready"})
ONE = frozenset({"a", "an", "the", "in", "at", "on"})
LOOKS = frozenset({"color", "form", "region", "surface", "configuration", "technique"})
ANEW = frozenset({"same"})
"""Concepts by which it is laid again: 'tied it again'."""
ARTICLES = frozenset({"the", "a", "an", "another"})
LACKING = frozenset({"wrong", "missing", "incomplete", "expired", "empty", "forgotten"})
"""Words of why what was ordered could not be used: '... but the rep had brought the wrong one'."""
BACK = 2
"""Clauses before in which a thing was named that came to nothing."""
STILL = frozenset({"still", "simply", "just", "both", "all", "then", "there", "can", "may", "has", "had", "never"})
"""Words between a tool and where it stayed."""
NAMED_BACK = 4
"""The same, for what was brought: 'blood for a clot | and it was liquid | when I finished, | so | that was binned'."""
TAKING = frozenset({"take", "accept", "want", "use", "have", "need", "like", "buy", "happy", "interested", "satisfied"})
POINTING = frozenset({"it", "they", "them", "that", "this", "which", "both", "these", "those", "one"})


def given_up(
    segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str], grammar: Grammar
) -> None:
    """Deny what was tried in vain, wasted, turned down or ruled out."""
    tried(segments, inside, found, words, grammar.plain_words("gives-way"))
    wasted(segments, inside, found, words, grammar.plain_words("hand-tool"))
    turned_down(segments, inside, found, words)
    ruled_out(segments, inside, found, words)
    went_back(segments, inside, found, words)
    goes_on_unreal(segments, found, words)
    let_drop(segments, inside, found, words, grammar)


def tried(
    segments: Segmentation,
    inside: list[list[Concept]],
    found: list[Assertion],
    words: list[str],
    tested: frozenset[str],
) -> None:
    """What was tried is not done where the clauses behind say that it failed, and none that it worked after all.

    With a word of `tested` it was a test, and what it showed: 'we tried to lift it, it could not be lifted'.
    """
    for clause in segments.clauses:
        if "trying" not in clause.lists:
            continue
        names = {c.name for c in inside[clause.number] if c.list == "trying"}
        if not names or not found[clause.number].done or not clause.lists & (DEEDS | TAKEN_UP):
            continue
        sentence = segments.sentence_at(clause.start).number
        told = segments.clauses[clause.number : clause.number + 1 + OUTCOME]
        near = [c for c in told if segments.sentence_at(c.start).number - sentence <= 1]
        lists = [c.lists for c in near]
        if any("succeeding" in own for own in lists):
            continue
        outcomes = {c.name for c in (c for part in near for c in inside[part.number]) if c.list == "failing"}
        if names == {"reached"}:
            failed = "dropped" in outcomes and not _went_on(near, inside, found)
        else:
            failed = bool(outcomes - {"dropped"}) and bool(clause.lists & DEEDS)
        behind = [c for c, own in zip(near, lists, strict=True) if "unable" in own and c.number > clause.number]
        if "tried" not in names:  # 'We began outside-in | but the needle would not come through'
            behind = [c for c in behind if "begun" in names and words[c.start] == "but"]
        unable = any(tested.isdisjoint(words[c.start : c.end]) for c in behind)
        if failed or unable:
            held = found[clause.number]
            found[clause.number] = Assertion(held.mood, True, None, held.cue)


ON_ITS_WAY = frozenset({"in", "one", "through", "by", "via", "with", "at", "to", "each", "from", "separately", "onto"})
"""Words behind 'pulled them out' that tell where or how: a suture on its way, and none undone."""


def _went_on(near: list[Span], inside: list[list[Concept]], found: list[Assertion]) -> bool:
    """Whether a deed was done between taking a thing up and what puts it down: 'drawn, | then cut. None was opened'."""
    for part in near[1:]:
        if any(c.key == "failing:dropped" for c in inside[part.number]):
            return False
        if found[part.number].done and part.lists & DEEDS and "trying" not in part.lists:
            return True
    return False


def wasted(
    segments: Segmentation,
    inside: list[list[Concept]],
    found: list[Assertion],
    words: list[str],
    tools: frozenset[str],
) -> None:
    """What was brought and came to nothing was not used: in its own clause, or in one that points back at it.

    So was what one of `tools` is for: 'the awl stayed in its tray'.
    """
    for clause in segments.clauses:
        if "wasted" not in clause.lists:
            continue
        cue = next((c for c in inside[clause.number] if c.list == "wasted"), None)
        if cue is None or found[clause.number].mood not in {"performed", "considered"}:
            continue
        if "stitch-lost" in clause.lists and not _lost_device(inside, clause):
            continue  # 'two of them tore out': how many were lost is counted where stitches are read
        if cue.name == "undone":
            if words[cue.end : cue.end + 1] and words[cue.end] in ON_ITS_WAY:
                continue  # 'I pulled them out | in the order they were passed', 'drew them out through the cannula'
            for laid in _laid_before(clause, segments, inside, found):
                found[laid.number] = Assertion("performed", True, None, cue.start)
                found[clause.number] = Assertion("withdrawn", False, None, cue.start)  # 'I cut it': no graft
            continue
        own = _brings(inside, clause) or is_of_another(words, clause) or _of_a_tool(clause, cue, words, tools)
        named = clause if own else _named(clause, segments, inside, words)
        if named is not clause and _has_own_subject(clause, cue, words):
            named = None
        if named is not None and found[named.number].mood == "performed":
            found[named.number] = Assertion("performed", True, None, cue.start)
            if named is clause:
                _with_parts(clause, segments, inside, found, words)


def _of_a_tool(clause: Span, cue: Concept, words: list[str], tools: frozenset[str]) -> bool:
    """'The awl | stayed wrapped': not 'with the shaver the flap was cut and discarded'."""
    at = cue.start - 1
    while at > clause.start and words[at] in FINITE | STILL:
        at -= 1
    return at >= clause.start and words[at] in tools


def _lost_device(inside: list[list[Concept]], clause: Span) -> bool:
    """'A screw was wasted': something that is no stitch."""
    return any(c.list in {"device", "tool"} and c.name != IMPLANT for c in inside[clause.number])


def _with_parts(
    clause: Span, segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> None:
    """'We had to bin a suture, | a green one at the back': what is only told of it is not used either."""
    for part in segments.clauses_of(segments.sentence_at(clause.start)):
        if part.number <= clause.number:
            continue
        if words[part.start - 1] != "," or words[part.start] not in ONE or verbal(words, part):
            return
        if found[part.number].mood == "performed" and part.lists & LOOKS:
            found[part.number] = Assertion("performed", True, None, found[clause.number].cue)


def _laid_before(
    clause: Span, segments: Segmentation, inside: list[list[Concept]], found: list[Assertion]
) -> tuple[Span, ...]:
    """What was laid and then undone, with what stands between: 'The knot between ... | and ... puckered, | I cut it'.

    Nothing where it is laid again right behind: 'cut it, | and tied it again'.
    """
    behind = segments.clauses[clause.number + 1 : clause.number + 1 + BACK]
    if any(c.lists & (LAID | {"verb"}) and any(k.name in ANEW for k in inside[c.number]) for c in behind):
        return ()
    before = segments.clauses[max(0, clause.number - BACK) : clause.number]
    near = [c for c in before if segments.sentence_at(clause.start).number - segments.sentence_at(c.start).number <= 1]
    at = next((n for n in reversed(range(len(near))) if near[n].lists & LAID), None)
    return () if at is None else tuple(c for c in near[at:] if found[c.number].mood == "performed")


def turned_down(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'The bank offered a graft of 34 by 10, | which we turned down': what was offered and refused is none of ours."""
    for clause in segments.clauses:
        held = found[clause.number]
        if held.mood not in {"performed", "planned"} or "offering" not in clause.lists:
            continue
        first = segments.sentence_at(clause.start).number
        for answer in segments.clauses[clause.number + 1 : clause.number + 1 + OUTCOME]:
            own = [c for c in inside[answer.number] if c.list != "doing"]
            if segments.sentence_at(answer.start).number - first > 1:
                break
            if any(c.list in CONTENT for c in own):
                break  # something else is spoken of
            if any(c.list == "wasted" or (c.list == "negation" and _refuses(c, answer, words)) for c in own):
                found[clause.number] = Assertion("considered", held.negated, held.ahead, answer.start)
                break


def ruled_out(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'Implants had been ordered, | but the tissue did not permit it': what lay ready, and why it stayed there.

    What is told to have gone in behind that was used.
    """
    for clause in segments.clauses:
        held, lists = found[clause.number], clause.lists
        if READY.isdisjoint(lists):
            continue
        ready = not lists.isdisjoint(READY) and lists.isdisjoint({"put-to-use", "wasted"})
        if held.mood != "performed" or held.negated or not ready or not _brings(inside, clause):
            continue
        behind = [c for c in segments.clauses_of(segments.sentence_at(clause.start)) if c.number > clause.number]
        reason = behind[:2] if behind and behind[0].end - behind[0].start == 1 else behind[:1]
        if not reason:
            continue
        said = words[reason[0].start : reason[-1].end]
        lacking = not LACKING.isdisjoint(said) and "put-to-use" not in set().union(*(c.lists for c in reason))
        if not lacking and (words[reason[0].start] != "but" or any(_goes_in(inside, c) for c in behind)):
            continue
        own = set().union(*(c.lists for c in reason)) & {"technique", "device", "action", "color"}
        why = lacking or "too" in said or any(found[c.number].negated for c in reason)
        if why and (not own or not POINTING.isdisjoint(said)):
            found[clause.number] = Assertion("considered", False, None, reason[0].start)


def _goes_in(inside: list[list[Concept]], clause: Span) -> bool:
    """Whether something was put to use, or another thing brought instead; 'so it stayed in its box' is neither."""
    lists = clause.lists
    return "put-to-use" in lists or ("at-hand" in lists and _brings(inside, clause))


def _refuses(denial: Concept, clause: Span, words: list[str]) -> bool:
    """Whether a denial is one of taking: 'we did not take it', and not 'we did not see it'."""
    behind = [w for w in words[denial.end : clause.end] if w.isalpha()]
    return denial.name != "not" or not behind or behind[0] in TAKING


def _named(clause: Span, segments: Segmentation, inside: list[list[Concept]], words: list[str]) -> Span | None:
    """The clause before that names what this one says came to nothing; in another sentence only if it is pointed at."""
    points = bool(POINTING & clause.said)
    if clause.lists & (CONTENT - {"action"}):
        return None
    for before in reversed(segments.clauses[max(0, clause.number - NAMED_BACK) : clause.number]):
        apart = segments.sentence_at(before.start) != segments.sentence_at(clause.start)
        if apart and clause.number - before.number > BACK:
            return None
        if is_of_another(words, before):
            return before  # 'a third was loaded, | but ... | and it was handed back'
        if apart and not points and words[clause.start - 1] != ";":
            return None
        lists = before.lists
        if _brings(inside, before) or is_of_another(words, before):  # 'a third one was loaded | and handed back'
            return None if "put-to-use" in lists else before
    return None


def _has_own_subject(clause: Span, cue: Concept, words: list[str]) -> bool:
    """'... fixed with a screw; the post stayed in its box': something else, whatever it is, came to nothing."""
    subject = [w for w in words[clause.start + 1 : cue.start] if w.isalpha() and w not in FINITE]
    return words[clause.start] in ARTICLES and bool(subject) and POINTING.isdisjoint(subject)


def _brings(inside: list[list[Concept]], clause: Span) -> bool:
    """Whether a clause names what may be brought to the table: a device or suture, or an instrument ('a staple')."""
    return any(c.list in BROUGHT or c.key == "thing:instrument" for c in inside[clause.number])
