"""The words around numbers, from `quantities-words.txt`, made ready for reading."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from extractor.language.numbers import number_words
from extractor.language.phrases import Phrases, common_lists, phrases_of, ways
from extractor.language.units import unit_words

CHOICE = re.compile(r"[a-z]/[a-z]|\(")
WORDS_FILE = "quantities-words.txt"


@dataclass(frozen=True)
class QuantityWords:
    """Phrase tables and word sets, named after the lists of the file."""

    before: Phrases
    after: Phrases
    no_bound: dict[str, frozenset[str]]
    up_to_verbs: frozenset[str]
    over_verbs: frozenset[str]
    range: Phrases
    plus_minus: Phrases
    correction: Phrases
    filler: Phrases
    count_filler: Phrases
    said_again: Phrases
    no_number: Phrases
    one_before: frozenset[str]
    one_after: frozenset[str]
    dimension: frozenset[str]
    after_value: frozenset[str]
    inside: Phrases
    sort_after: Phrases
    sort_before: Phrases
    before_roman_i: frozenset[str]
    identifier_before: Phrases
    identifier_bearers: frozenset[str]
    identifier_skip: frozenset[str]
    identifier_dash: frozenset[str]
    spelling: Phrases
    suture_words: frozenset[str]
    counted: frozenset[str]
    months: frozenset[str]
    months_needing_a_year: frozenset[str]
    joined_hundreds: frozenset[str]
    joined_one: frozenset[str]
    sizes: dict[str, str]
    negative: frozenset[str]
    year_before: frozenset[str]
    heard_two: frozenset[str]
    heard_oh: frozenset[str]
    look_again: frozenset[str]
    second_look: Phrases
    written: Phrases
    cutting: frozenset[str]
    cut_off: frozenset[str]
    not_cut: frozenset[str]
    heard_thousand: dict[str, str]
    heard_digits: dict[str, str]
    oh_sizes: dict[str, str]
    threads: frozenset[str]
    thread_plurals: frozenset[str]
    suture_tools: frozenset[str]
    size_before: frozenset[str]
    apart: frozenset[str]
    time_goes_on: frozenset[str]
    signed: frozenset[str]
    extent: frozenset[str]
    span_before: Phrases
    week_before: frozenset[str]
    count_end: Phrases
    of_people: frozenset[str]
    nth: Phrases
    share_of: Phrases
    halfway_of: Phrases
    dismissal: Phrases
    changing: Phrases
    entering: Phrases
    fault: Phrases
    provisional: Phrases
    looked_again: Phrases
    not_entering: Phrases
    amount_told: frozenset[str]
    made_from: frozenset[str]
    read_with: frozenset[str]
    openers: frozenset[str]
    """Words at which something of interest to the number reader may open."""
    leads: frozenset[str]
    """Those of them that open no number, but words around one: 'the', 'graft'."""


def has_choice(way: str) -> bool:
    """Whether a way of saying has choices: 'lands/landed (up) on'; a sign with a stroke ('+/-') has none."""
    return CHOICE.search(way) is not None


@lru_cache(maxsize=1)
def quantity_words() -> QuantityWords:
    """The shipped words around numbers."""
    lists = common_lists(WORDS_FILE)

    def table(name: str) -> Phrases:
        return phrases_of(ways(lists[name]), chosen=has_choice)

    def words(name: str, concept: str | None = None) -> frozenset[str]:
        return frozenset(way for way, entry in ways(lists[name]) if concept in (None, entry))

    numbers, identifier, no_number = number_words(), table("identifier-before"), table("no-number")
    openers = {
        "a",
        "an",
        "another",
        "half",
        "halfway",
        "quarter",
        "point",
        "right",
        "number",
        "numbered",
        *numbers.cardinals,
        *numbers.scales,
        *numbers.zeros,
    }
    openers |= {*numbers.typed_sizes, *numbers.roman_heard}
    openers |= {*numbers.fractions, *numbers.roman, *numbers.vague.first_words, *numbers.grouping}
    leads = {*identifier.first_words, *no_number.first_words, *table("nth").first_words}
    leads |= {*unit_words().before_number.first_words}
    leads -= openers
    return QuantityWords(
        table("before"),
        table("after"),
        {
            name.removeprefix("no-bound-").replace("-", "_"): words(name)
            for name in lists
            if name.startswith("no-bound-")
        },
        words("up-to-verbs"),
        words("over-verbs"),
        table("range"),
        table("plus-minus"),
        table("correction"),
        table("filler"),
        table("count-filler"),
        table("said-again"),
        no_number,
        words("one-before"),
        words("one-after"),
        words("dimension"),
        words("after-value"),
        table("between-number-and-unit"),
        table("sort-after"),
        table("sort-before"),
        words("grade-before-i"),
        identifier,
        words("identifier-bearers"),
        words("identifier-joins", "skip"),
        words("identifier-joins", "dash"),
        table("spelling"),
        words("suture-words"),
        words("counted"),
        words("months"),
        words("months-needing-a-year"),
        words("joined-hundreds"),
        words("joined-one"),
        dict(ways(lists["sizes"])),
        words("negative"),
        words("year-before"),
        words("heard-two"),
        words("heard-oh"),
        words("look-again"),
        table("second-look"),
        table("written-down"),
        words("cut-again", "cutting"),
        words("cut-again", "off"),
        words("cut-again", "other"),
        {entry.name: entry.spoken[0] for entry in lists["heard-thousand"].entries.values()},
        dict(ways(lists["heard-digits"])),
        dict(ways(lists["oh-sizes"])),
        words("threads"),
        words("threads", "sutures"),
        words("suture-tools"),
        words("size-before"),
        words("apart"),
        words("time-goes-on"),
        words("signed"),
        words("extent"),
        table("span-before"),
        words("week-before"),
        table("count-end"),
        words("of-people"),
        table("nth"),
        table("share-of"),
        table("halfway-of"),
        table("dismissal"),
        table("changing"),
        table("entering"),
        table("fault"),
        table("provisional"),
        table("looked-again"),
        table("not-entering"),
        words("amount-told"),
        words("made-from"),
        words("read-with"),
        frozenset(openers | leads),
        frozenset(leads),
    )
