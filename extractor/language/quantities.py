"""Quantities of a note: numbers with units, ranges, bounds, corrections, counts, products.

    read_quantities("eighteen , no , nineteen millimeters".split())

gives one quantity of 19 mm whose earlier value is 18. The steps, each one pass over the note: single
measures (`measures.py`; `heard.py` for what a speech recognizer makes of them, `sizes.py` for sutures),
neighbors that make one (`joins.py`: digits said again, spans of time, ranges),
corrections and counts (`settle.py`), corrections that come later (`retracted.py`), products and units carried along
(`joins.py`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extractor.language import joins, links
from extractor.language.cut_again import changed_from, cut_again, cut_down
from extractor.language.heard import plain
from extractor.language.marks import along_marks
from extractor.language.measure import QUANTITY, Measure
from extractor.language.measures import read_measures
from extractor.language.quantity_words import QuantityWords, quantity_words
from extractor.language.retracted import put_right_later
from extractor.language.runs import LEAST_APART
from extractor.language.settle import settle, unit_corrections
from extractor.language.sorts import follows_noun
from extractor.language.sums import summed
from extractor.language.units import Unit, canonical, convert
from extractor.language.values import value

OF_THEM = frozenset({("of", "them"), ("of", "those"), ("of", "these")})
PAIRS = (
    joins.again,
    joins.repeated,
    joins.span_of_time,
    joins.plus_minus,
    joins.renamed,
    joins.year_of,
    joins.fallen,
    cut_down,
    changed_from,
    joins.range_of,
)
"""Ways in which two neighbors make one measure, in the order tried."""
PLAN_TIME, RATE = "plan_time", "rate"
EACH = frozenset({"a", "an", "each", "every", "per"})
TIMES = frozenset({"times", "time", "once", "twice", "days", "sessions"})
MOST_WORDS = 6
"""Words of a number looked at to see whether it is a decimal ('3.0')."""
CLEAN = 10
"""Significant digits kept, so that arithmetic leaves no dust."""


@value(frozen=True, slots=True)
class Quantity:
    """One quantity of a note, over reading tokens `[start, end)`.

    Attributes:
        start: first token, a hedge or bound included.
        end: token after the last, corrections and earlier values included.
        value: the final single value in canonical units; None for a range, a bound or an identifier.
        low: low end of a range, or of "at least".
        high: high end of a range, or of "at most".
        unit: canonical UCUM code; None for a bare number.
        dimension: "length", "angle", ...; None for a bare number.
        approximate: said to be about right.
        earlier: values corrected, in the same unit.
        said_unit: UCUM code as said.
        part: place in a product "A by B by C".
        product: number shared by the parts of one product.
        unit_inherited: the unit was said for a neighbor.
        said_twice: repeated for safety.
        rivals: other values that may be meant: the two sayings disagree, or the recognizer's spelling leaves both
            ('20-2 millimeters' is 22, or 2).
        kind: "quantity", or "count", "ordinal", "suture-size", "identifier", "date", "year", "age", "clock",
            "gauge", "grade", "fraction", "stature", "rate".
        number_start: first token of the final number.
        number_end: token after the final number.
        counted: values counted along the way, not corrected.
        text: a suture size ("2-0") or identifier ("A6107") as written.
        put_right: where a value put right later was said, in the tokens `[start, end)`.
    """

    start: int
    end: int
    value: float | None
    low: float | None
    high: float | None
    unit: str | None
    dimension: str | None
    approximate: bool = False
    earlier: tuple[float, ...] = ()
    said_unit: str | None = None
    part: int = 0
    product: int | None = None
    unit_inherited: bool = False
    said_twice: bool = False
    rivals: tuple[float, ...] = ()
    kind: str = QUANTITY
    number_start: int = -1
    number_end: int = -1
    counted: tuple[float, ...] = ()
    text: str | None = None
    put_right: tuple[int, int] | None = None

    @property
    def is_hedged_length(self) -> bool:
        """Whether it is a length between two values: 'three millimeters wide, maybe four'."""
        return self.dimension == "length" and self.low is not None and self.high is not None


def read_quantities(words: Sequence[str]) -> list[Quantity]:
    """Read every number of a note.

    Args:
        words: reading tokens, lower-cased; punctuation is its own token, a line break is a newline.

    Returns:
        Quantities left to right, not overlapping. Time grows linearly with the number of words.
    """
    lexicon = quantity_words()
    words = plain(words)
    measures = unit_corrections(words, read_measures(words), lexicon)
    measures = along_marks(words, joins.spelt_first(words, measures), lexicon)
    for pair in PAIRS:
        measures = joins.join_pairs(words, measures, pair, lexicon)
    measures = put_right_later(words, settle(words, measures, lexicon), lexicon)
    measures = summed(words, cut_again(words, measures, lexicon))
    parts = joins.products(words, measures, lexicon)
    measures = joins.hedged_units(words, joins.carry_units(words, measures, parts))
    found = [
        _quantity(words, m, parts.get(i, (0, None)), counts=_before_measure(measures, i), lexicon=lexicon)
        for i, m in enumerate(measures)
    ]
    return _with_rates(
        words, [replace(q, kind=QUANTITY) if _before_count(measures, i) else q for i, q in enumerate(found)]
    )


def _with_rates(words: Sequence[str], found: list[Quantity]) -> list[Quantity]:
    """'Five days a week', 'three times a week': how often, and no span of time."""
    out = list(found)
    for i, q in enumerate(found):
        if q.dimension != PLAN_TIME or not q.start or words[q.start] not in EACH:
            continue
        before = found[i - 1] if i else None
        if before and before.dimension == PLAN_TIME and before.end == q.start:
            out[i - 1] = replace(before, kind=RATE)
            out[i] = replace(q, kind=RATE)
        elif words[q.start - 1] in TIMES:
            out[i] = replace(q, kind=RATE)
    return out


def _before_measure(measures: list[Measure], i: int) -> bool:
    """Whether another measure follows at once: 'two ten millimeter plugs', 'six two-oh sutures'."""
    if i + 1 >= len(measures) or measures[i + 1].start != measures[i].end:
        return False
    return measures[i + 1].unit is not None or measures[i + 1].sort in ("suture-size", "gauge", "ordinal")


def _before_count(measures: list[Measure], i: int) -> bool:
    """'Two fifty | two portals': a bare number cut off the count behind it counts nothing itself."""
    m, after = measures[i], measures[i + 1] if i + 1 < len(measures) else None
    apart = after is not None and after.start == m.end and after.bare
    return bool(apart and m.bare and m.value is not None and m.value >= LEAST_APART)


def _quantity(
    words: Sequence[str], m: Measure, place: tuple[int, int | None], counts: bool, lexicon: QuantityWords
) -> Quantity:
    """A measure in canonical units; `place` is its part and product."""
    part, product = place
    into = canonical(m.unit) if m.unit else None

    def put(value: float | None, unit: Unit | None) -> float | None:
        if value is None:
            return None
        if m.unit is None or into is None:
            return _clean(value)
        return _clean(convert(links.value_in(value, unit, m.unit), m.unit, into))

    earlier = tuple(v for v in (put(value, unit or m.unit) for value, unit in m.earlier) if v is not None)
    return Quantity(
        start=m.start,
        end=m.end,
        value=put(m.value, m.unit),
        low=put(m.low, m.unit),
        high=put(m.high, m.unit),
        unit=into.code if into else ("a" if m.sort == "age" else None),
        dimension=into.dimension if into else ("age" if m.sort == "age" else None),
        approximate=m.about,
        earlier=earlier,
        said_unit=m.unit.code if m.unit else None,
        part=part,
        product=product,
        unit_inherited=m.inherited and m.unit is not None,
        said_twice=m.twice,
        rivals=tuple(v for v in (put(r, m.unit) for r in m.rivals) if v is not None),
        kind=_kind(words, m, product, counts, lexicon),
        number_start=m.number_start,
        number_end=m.number_end,
        counted=tuple(v for v in (put(c, m.unit) for c in m.counted) if v is not None),
        text=m.text or None,
        put_right=m.put_right,
    )


def _kind(words: Sequence[str], m: Measure, product: int | None, counts: bool, lexicon: QuantityWords) -> str:
    if m.sort == QUANTITY and m.unit is not None and m.unit.name in lexicon.of_people:
        return "stature"
    if m.sort != QUANTITY or m.unit is not None or product is not None:
        return m.sort
    if m.value is not None and m.value >= LEAST_APART:
        return QUANTITY  # 'tourniquet three hundred scope shows': nothing is counted by the hundred
    if m.pronoun or (m.value == 1 and words[m.number_start] == "one"):
        return "count"
    decimal = any("." in w or w == "point" for w in words[m.number_start : m.number_end][:MOST_WORDS])
    if m.value is not None and m.value == int(m.value) and not decimal and (counts or _counts(words, m.end, lexicon)):
        return "count"
    return QUANTITY


def _counts(words: Sequence[str], i: int, lexicon: QuantityWords) -> bool:
    """Whether a plural stands within three words, the first of them no word that ends a value."""
    if tuple(words[i : i + 2]) in OF_THEM:
        return True
    if not follows_noun(words, i, lexicon):
        return False
    for word in words[i : i + 3]:
        if not word[:1].isalpha():
            return False
        if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is")):
            return True
    return False


def _clean(value: float) -> float:
    return float(f"{value:.{CLEAN}g}")
