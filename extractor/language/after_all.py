"""What was done after all, though it was not meant, wanted or expected: 'not on the list, but so it was'.

'I had not planned a synovectomy, | yet I did one', 'nobody thought it would go in, | but in it went', 'the fellow
begged off; | we made one'. The words of being unwilling stand in the list `unwilling`, idioms that only sound like a
denial in `affirmed`; this module says which clause turns the one before.
"""

from __future__ import annotations

from extractor.grammar.packs import Grammar
from extractor.language.asserted import Assertion
from extractor.language.clause_words import REPLACING, SENTENCE_END
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept

DEEDS = frozenset({"action", "operation", "technique", "tie", "device", "brought"})
SAME = frozenset({"action", "operation", "technique", "tie"})
SAME_OR_VERB = SAME | {"verb"}
"""Lists by which two clauses are seen to tell of the same deed."""
DONE_TO = frozenset({"noun", "finding", "thing", "structure"})
STEM = 4
"""Letters by which two words are seen to be of one stem: 'trephination', 'trephined'."""
NAMED = DEEDS | {"verb", "thing", "brace-need"}
COMPARING = frozenset({"more", "less", "better", "fewer", "further", "worse"})
MORE_THAN = frozenset({"have", "than"})
LONG = 5
"""Letters of a word in '-er' that compares, at least: no 'over' or 'under'."""
BACK = 5
"""Clauses before the one that turns it in which a deed may have been named, at most."""
SHORT = 9
"""Words of a clause that only says that it was done, at most."""
LEADS = frozenset({
    "but", "yet", "and", "so", "still", "then", "anyway", "well", "of", "course", "in", "the", "end", "all", "same",
    "finally", "eventually", "however", "though", "there", "it", "this", "that", "those", "these",
})  # fmt: skip
IT = frozenset({"it", "they", "them", "that", "one", "those", "these", "both", "this"})
WE = frozenset({"we", "i"})
HERE_TOO = frozenset({"here", "too", "also", "today", "again", "as", "well", "so", "likewise", "time"})
"""Words that say no more than that it was done here as well: 'I always do | and I did here too'."""
BE = frozenset({"was", "were", "is", "are", "'s", "went", "came", "has", "have", "had", "got"})
PLACED = frozenset({"in", "on", "up", "out", "down", "through", "done", "too", "there", "off"})
ON_WHOM = frozenset({"to", "him", "her", "anyway", "too", "afterwards", "ourselves", "today"})
MORE = frozenset({"second", "third", "fourth", "fifth", "another", "further", "extra"})
"""'He wanted a second anchor; | I used one': one of them, not that one."""
GENERAL = frozenset({"nobody", "never", "nothing", "no", "none", "nor"})
WITHOUT = "without"
DENIALS = frozenset({"negation", "negation-ahead"})
OVERRULED = frozenset({"considered", "conditional", "planned", "performed", "habit"})


def without_twice(clause: Span, own: list[Concept], meant: Assertion, words: list[str]) -> Assertion:
    """'Nobody leaves without the rim being rasped', 'I did not close without a look': two denials are none.

    What holds for everybody is a habit, and says nothing of this case by itself.
    """
    if _could_not_be_more(clause, own, words):
        return Assertion()
    second = next((c for c in own if _second_denial(c, clause, words)), None)
    if second is None or meant.mood != "performed":
        return meant
    first = next((c for c in own if c.list in DENIALS and c.start < second.start), None)
    if first is None:
        return meant
    saying = words[first.start] in GENERAL and words[second.start] == WITHOUT
    return Assertion("habit" if saying else "performed", False, None, first.start)


def _could_not_be_more(clause: Span, own: list[Concept], words: list[str]) -> bool:
    """'It could n't have been probed more thoroughly', 'there could not have been less slack'."""
    if MORE_THAN.isdisjoint(clause.said):
        return False
    said = words[clause.start : clause.end]
    have = said.index("have") if "have" in said else 0
    could = have > 1 and said[have - 1] in {"n't", "not"} and said[have - 2] in {"could", "can", "ca"}
    nothing = said[:1] == ["nothing"] and said[1:2] in (["could"], ["can"], ["is"], ["was"]) and "than" in said
    nothing = nothing or (said[0] in GENERAL and {"ever", "than"} <= set(said))  # 'No portal was ever harder than this'
    have, could = (0, True) if nothing else (have, could)
    more = any(w in COMPARING or (len(w) > LONG and w.endswith("er")) for w in said[have + 2 :])
    return could and more and not any(c.list == "negation" and c.start > clause.start + have for c in own)


def _second_denial(c: Concept, clause: Span, words: list[str]) -> bool:
    """'... without a look', '... of not having irrigated'."""
    if c.start == clause.start:
        return False
    denied = c.key == "negation:not"
    of_not = denied and words[c.start - 1] in {"of", "for"}
    never = denied and words[clause.start] == "not" and words[c.start] == "never"  # 'Not closing was never an option'
    return of_not or never or (c.list == "negation-ahead" and words[c.start] == WITHOUT)


def unthinkable(clauses: tuple[Span, ...], found: list[Assertion], words: list[str]) -> None:
    """'Without harvesting it | there 'd be no graft': what there would not have been without it was done.

    Where nothing is denied, or it is said of 'you', it is a saying, and tells of no deed either way.
    """
    for clause, after in zip(clauses, clauses[1:], strict=False):
        held, then = found[clause.number], found[after.number]
        if words[clause.start] == WITHOUT and held.ahead is not None and then.mood == "conditional":
            denied = (then.negated or then.ahead is not None) and "you" not in words[after.start : after.end]
            found[clause.number] = Assertion("performed" if denied else "habit", False, None, held.cue)


def belied(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'It would be a lie to say | the rim was not rasped': it was."""
    for clause, after in zip(segments.clauses, segments.clauses[1:], strict=False):
        if "belying" not in clause.lists:
            continue
        cue = next((c for c in inside[clause.number] if c.list == "belying"), None)
        if cue is None or clause.end - cue.end > 1 or words[clause.end - 1] in SENTENCE_END:
            continue
        held = found[after.number]
        if held.mood == "performed":
            found[after.number] = Assertion("performed", held.done, None, cue.start)


def none_that_not(clauses: tuple[Span, ...], found: list[Assertion], words: list[str]) -> None:
    """'There is n't a gutter | I did n't wash': each of them was washed."""
    for clause, after in zip(clauses, clauses[1:], strict=False):
        here, there = found[clause.number], found[after.number]
        opens = words[clause.start] == "there" and (here.negated or here.ahead is not None)
        joined = words[clause.end - 1].isalpha() and words[after.start] in WE
        if opens and joined and there.mood == "performed" and there.negated:
            found[after.number] = Assertion("performed", False, None, there.cue)


def done_after_all(
    segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str], grammar: Grammar
) -> None:
    """Turn what somebody did not want, plan or expect where a clause behind says that it was done."""
    did, done = grammar.plain_words("deed-past"), PLACED | grammar.plain_words("deed-done")
    dropping = grammar.plain_words("let-drop")  # 'so that was dropped'
    undone = -BACK - 1  # the last clause before that was not done, as far as is known
    for clause in segments.clauses:
        if not found[clause.number].done:
            undone = clause.number
        if clause.number - undone > BACK or clause.number == undone:
            continue
        says_so = _says_done(clause, words, did, done) and dropping.isdisjoint(clause.said)
        if not says_so and SAME_OR_VERB.isdisjoint(clause.lists):
            continue
        before = _unwilling_before(clause, segments, inside, found, words)
        if before is None:
            continue
        held = found[before.number]
        if held.ahead is not None and (words[held.ahead] in REPLACING or words[clause.start - 1] == "how"):
            continue  # 'instead of the stitch I usually put in, | a device went in', '... that is how | it was'
        idiom = "affirmed" in before.lists
        refused = held.negated or held.ahead is not None or idiom  # of what was thought of, another may be told as done
        same = refused and _same_deed(inside[clause.number], inside[before.number], words)
        if words[before.start] == "only":  # 'Only when I could not see for villi | did I resect them'
            same = same or not {c.key for c in inside[clause.number] if c.list in SAME}.isdisjoint(
                c.key for c in inside[before.number]
            )
        other = MORE & before.said and "one" in words[clause.start : clause.end]
        if (says_so and not other) or same:
            found[before.number] = Assertion("performed", False, None, found[before.number].cue)


def _same_deed(own: list[Concept], before: list[Concept], words: list[str]) -> bool:
    """Whether two clauses name the same deed: by words of one stem, or by the same verb and what it is done to."""
    pairs = [(c, d) for c in own for d in before if c.key == d.key]
    stem = any(c.list in SAME and words[c.start][:STEM] == words[d.start][:STEM] for c, d in pairs)
    lists = {c.list for c, _ in pairs}
    return stem or ("verb" in lists and bool(lists & DONE_TO))


def _says_done(clause: Span, words: list[str], did: frozenset[str], done: frozenset[str]) -> bool:
    """Whether a clause only says that it was done: 'we did', 'so it was', 'in it went', 'we made one'.

    `did` are pasts of what one does, `done` what 'it was' may be.
    """
    said = [w for w in words[clause.start : clause.end] if w[:1].isalpha() or w[:1] == "'"]
    if not said or len(said) > SHORT:
        return False
    pairs = list(zip(said, said[1:], strict=False))
    if said[-2:] == ["had", "to"] or (said[-2:-1] == ["did"] and said[-1] in {"one", "it", "so", "them"}):
        return True
    if any(a in WE and b == "did" for a, b in pairs):
        rest = set(said[said.index("did") + 1 :])
        return rest <= HERE_TOO or bool(IT & rest)
    if any(a in WE and b in did for a, b in pairs):
        return _acted_on_it(said, next(i for i, (a, b) in enumerate(pairs) if a in WE and b in did))
    bare = [w for w in said if w not in LEADS - IT]
    if said[0] in LEADS and bare[:1] and bare[0] in did and bare[1:2] in (["it"], ["one"], ["them"]):
        return set(bare[2:]) <= PLACED | ON_WHOM  # '... | and got it anyway'
    told = next((i for i, (a, b) in enumerate(pairs) if a in IT and b in BE), None)
    if told is None:
        return False
    rest = set(said[:told]) - LEADS
    behind = said[told + 2 :]
    fronted = said[told - 1] if told else ""
    if fronted in PLACED or fronted.endswith("ed"):
        return True  # 'in it went', 'rasped it was'
    if rest - {"two", "three", "four"}:
        return False
    if not behind:
        return told > 0  # 'so it was'; 'that was | that' says nothing
    return behind == ["to"] or behind[0] in done or behind[0].endswith("ed")


def _acted_on_it(said: list[str], at: int) -> bool:
    """'We put it on him' and no more: 'I cut it at nine' tells of a size."""
    tail = said[at + 2 :]
    named = next((i for i, w in enumerate(tail[:2]) if w in {"it", "them", "one"}), None)
    return named is not None and set(tail) <= IT | LEADS | PLACED | ON_WHOM


def _unwilling_before(
    clause: Span, segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> Span | None:
    """The clause before in which a deed was named that was not wanted; none where a deed was done since."""
    sentence = segments.sentence_at(clause.start).number
    willing = True
    for before in reversed(segments.clauses[max(0, clause.number - BACK) : clause.number]):
        if sentence - segments.sentence_at(before.start).number > 1:
            return None
        held, lists = found[before.number], before.lists
        habit = held.mood == "habit" and segments.sentence_at(before.start).number == sentence
        rule = held.negated and _do_not(words, before)  # 'Sometimes I do n't add one, | but this time I did'
        willing = willing and "unwilling" not in lists and not habit and not rule
        if held.mood not in OVERRULED:
            return None
        if not lists & NAMED:
            if held.negated and not (habit or rule):
                return None  # 'We had planned it. It was not needed, ...'
            continue
        if not held.done:
            return None if willing and words[before.start] != "only" else before
    return None


def _do_not(words: list[str], clause: Span) -> bool:
    """Whether whoever dictates says what they do not do, as a rule: 'Usually I don't'."""
    return any(
        words[i] in WE | {"usually", "normally"} and words[i + 1 : i + 3] in (["do", "n't"], ["do", "not"])
        for i in range(clause.start, clause.end - 2)
    )
