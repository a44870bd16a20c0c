"""What is said of stitches beside them: an afterthought, the suture loaded before, one more of the same."""

from __future__ import annotations

from collections.abc import Sequence

from extractor.facts.case import Case
from extractor.facts.looks import Look
from extractor.facts.stitch_bare import INFERRED
from extractor.facts.stitch_groups import PLACES, Group
from extractor.facts.stitch_links import Links
from extractor.facts.stitch_words import inside, look_of, numbered, place_of, size_of, ways
from extractor.language.clauses import Span

KINDS_SAID = ("configuration", "way", "form", "material")
SMALL = frozenset({
    "all", "each", "every", "one", "a", "an", "as", "in", "both", "these", "they", "were", "was", "are", "is",
    "the", "lot", "of", "them", "throughout", "again", "too", "also", "same", "only", "everywhere", "well", "with",
    "for", "those", "everything", "about", "roughly", "at", "always", "and",
})  # fmt: skip
"""Plain words that may stand beside in an afterthought, beside those of `afterthought`."""
ORDINALS = frozenset({"first", "second", "third", "fourth", "other", "another", "color", "colors"})
THREADS = frozenset({"form", "material"})
ALSO = frozenset({"too", "also", "similarly"})
OF_THEM = frozenset({"these", "they", "those", "all"})
"""A sentence that opens with one of these may tell where the stitches before it lie: 'These were in the body.'"""
OF_ALL = frozenset({"both", "all", "each"})
"""With one of these a color is said of every stitch told just before: 'Both white.'"""


def afterthought(case: Case, sentence: Span, looks: Sequence[Look]) -> dict[str, object]:
    """A few words that only say how the stitches before were laid: 'Horizontal mattress', 'all number zero'."""
    share = (sentence.start, sentence.end)
    known = {i for n in KINDS_SAID for c in case.within(n, *share) for i in range(c.start, c.end)}
    sizes = (q for q in case.numbers(*share) if q.kind == "suture-size" or numbered(case, q) or q.dimension == "length")
    known |= {i for q in sizes for i in range(q.start, q.end)}
    labels = case.grammar.plain_words("stitch-label")
    labelled = any(case.words[i] in labels and case.words[i + 1 : i + 2] == [":"] for i in range(*share))
    placed = labelled or case.words[sentence.start] in OF_THEM
    if placed:
        known |= {i for n in PLACES for c in case.within(n, *share) for i in range(c.start, c.end)}
    own = inside(looks, *share)
    color = own[0] if len(own) == 1 and OF_ALL & set(case.words[slice(*share)]) else None
    known |= set(range(color.start, color.end)) if color else set()
    rest = [case.words[i] for i in range(*share) if i not in known and case.words[i].isalpha()]
    small = SMALL | case.grammar.plain_words("afterthought") | (labels if labelled else set())
    if not known or any(w not in small for w in rest):
        return {}
    said = ways(case, sentence.start, share, False) | {"usp_size": size_of(case, sentence.start, *share)}
    said |= {k: v for k, v in look_of(case, sentence.start, share, looks).items() if k == "form" or color}
    said |= place_of(case, sentence.start, share) if placed else {}
    return {k: v for k, v in said.items() if v}


def alike(case: Case, sentence: Span, looks: Sequence[Look], links: Links) -> list[Group]:
    """'The same again with the blue tape': one more stitch like the one before, of another look."""
    before = links.open[-1] if links.open else None
    same = "same" in sentence.lists or not ALSO.isdisjoint(sentence.said)
    own = inside(looks, sentence.start, sentence.end) if same and before else []
    if not same or len(own) != 1 or before is None or not {"color", "configuration"} <= set(before.fields):
        return []
    told = [c for name in ("technique", "configuration") for c in case.within(name, sentence.start, sentence.end)]
    look = own[0]
    assertion = case.assertion(look.start)
    if told or look.color == before.fields["color"] or assertion.mood != "performed" or assertion.declines(look.start):
        return []
    place = place_of(case, look.start, (sentence.start, sentence.end))  # 'Anterior root, the same with a white one'
    group = before.copy(
        **place | {"color": look.color or None, "pattern": look.pattern, "form": look.form, "count": None}
    )
    group.pieces = [(look.start, look.end), *before.pieces[:1]]
    group.certainty = INFERRED
    return [group]


def by_color_behind(case: Case, sentence: Span, looks: Sequence[Look], links: Links) -> list[Group]:
    """'Two cinch sutures through the root. One is white and one is green.': a color for each of those just told."""
    before = links.open[0] if len(links.open) == 1 else None
    own = inside(looks, sentence.start, sentence.end) if before else []
    if before is None or "color" in before.fields or before.count != len(own) or len(own) < 2:
        return []
    known = {i for k in own for i in range(k.start, k.end)}
    rest = {case.words[i] for i in range(sentence.start, sentence.end) if i not in known and case.words[i].isalpha()}
    small = SMALL | case.grammar.plain_words("afterthought")
    if not rest <= small | ORDINALS or case.assertion(sentence.start).mood != "performed":
        return []
    before.dropped = True
    groups = [
        before.copy(color=k.color or None, pattern=k.pattern, form=k.form or before.fields.get("form"), count=None)
        for k in own
    ]
    for group, look in zip(groups, own, strict=True):
        group.pieces = [(look.start, look.end), *before.pieces[:1]]
        group.certainty = INFERRED
    return groups


def load(case: Case, sentence: Span, told: Sequence[Group], looks: Sequence[Look]) -> None:
    """'Load the white tape. First bite through the root, a cinch.': the suture in hand is the one named just before."""
    bare = [g for g in told if "color" not in g.fields and g.fields.get("tissue") == "root"]
    if len(told) != 1 or len(bare) != 1 or not sentence.number:
        return
    before = case.note.segments.sentences[sentence.number - 1]
    own = inside(looks, before.start, before.end)
    laid = [c for name in ("configuration", "technique") for c in case.within(name, before.start, before.end)]
    if len(own) != 1 or laid or inside(looks, sentence.start, sentence.end):
        return
    look = own[0]
    said = {"color": look.color or None, "pattern": look.pattern, "form": look.form}
    bare[0].fields.update({k: v for k, v in said.items() if v and k not in bare[0].fields})
    bare[0].pieces.append((look.start, look.end))


def foreword_of(case: Case, sentence: Span) -> str | None:
    """The size of a suture named by itself just before its stitches: 'Number zero was used. Like this, three'."""
    share = (sentence.start, sentence.end)
    threads = not THREADS.isdisjoint(sentence.lists)
    sizes = [q for q in case.numbers(*share) if q.kind == "suture-size" or numbered(case, q)] if threads else []
    if len(sizes) != 1:
        return None
    others = case.grammar.concepts_in("sized-else")
    elsewhere = case.within("skin-closure", *share) or case.assertion(sentence.start).mood != "performed"
    elsewhere = elsewhere or any(c.key in others for name in ("thing", "tissue") for c in case.within(name, *share))
    return None if elsewhere else size_of(case, sentence.start, *share)
