"""Concepts: the words of the grammar's lists found in a note.

Of concepts of one list that lie inside one another the longest stands (in a list marked `shared`: of those
of one pack, so that one pack's words never hide another's). A list marked `covers` also hides
what other lists find inside its words ('along the rim' is a way of measuring, not the rim), unless that
list is marked `inside` (the 'medial' of 'medial meniscus repair' is still a compartment). File order never
decides.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import field

from extractor.language.values import value


@value(frozen=True, slots=True)
class Concept:
    """A concept said in the tokens `[start, end)`; `key` is `list:name`, as rules refer to it."""

    list: str
    name: str
    start: int
    end: int
    key: str = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Keep the key: it is asked for many times."""
        object.__setattr__(self, "key", f"{self.list}:{self.name}")


POINTING = frozenset("this that these those his her their our my".split())
"""Said before a noun these are as good as the 'the' of a list: 'from this root', 'along her rim'.

Not 'its', which tells whose it is: 'from its root' is said of the graft.
"""
WHEN = frozenset("case day moment month morning one operation point procedure session time week year".split())
"""Nouns that NOW makes those of today: 'at this time' is not 'at the time'."""
ARTICLES = frozenset({"the", "a", "an"})
LOOSE = frozenset({"after", "as", "before", "by", "for", "of", "to", "with", "without"})
"""Without an article behind it one of these says something else: 'nine of width' is no share, 'to probe' no probe."""
NOW = frozenset({"this", "these"})
Phrase = tuple[str, str, str, tuple[str, ...]]
"""A way of saying: pack, list, concept and words."""
Meant = tuple[str, str, str]
"""What a way of saying may mean: list, concept and pack."""
NO_ENDINGS: Mapping[str, tuple[str, str, str]] = {}


class _Opening:
    """Ways of saying that open with one word: what each may mean, and how many words they have, the longest first.

    `beside` has the numbers of words of those that go on with a word; where none does, only the word `alone` may mean
    something.
    """

    __slots__ = ("alone", "beside", "said", "sizes")

    def __init__(self, said: Mapping[tuple[str, ...], set[Meant]]) -> None:
        self.said = {words: tuple(sorted(meant) if len(meant) > 1 else meant) for words, meant in said.items()}
        self.sizes = tuple(sorted({len(words) for words in said}, reverse=True))
        self.alone = tuple(size for size in self.sizes if size == 1)
        beside: dict[str, set[int]] = {}
        for words in said:
            if len(words) > 1:
                beside.setdefault(words[1], {*self.alone}).add(len(words))
        self.beside = {word: tuple(sorted(sizes, reverse=True)) for word, sizes in beside.items()}


def opening(phrases: Iterable[Phrase]) -> Callable[[str], Iterable[Phrase]]:
    """Gives the ways of saying that open with a word, of all that there are."""
    found: dict[str, list[Phrase]] = {}
    for phrase in phrases:
        found.setdefault(phrase[3][0], []).append(phrase)
    return lambda word: found.get(word, ())


class ConceptFinder:
    """Finds every concept of the grammar's word lists. Built once, used for all notes."""

    def __init__(
        self,
        opening_with: Callable[[str], Iterable[Phrase]],
        covers: Mapping[str, frozenset[str]],
        inside: frozenset[str],
        shared: frozenset[str],
        endings: Mapping[str, Meant] = NO_ENDINGS,
    ) -> None:
        """Take the ways of saying, what each list covers, and the marked lists.

        Args:
            opening_with: every way of saying that opens with a word; asked once for each word met.
            covers: for each list the lists it hides inside its own words; `*` is all.
            inside: lists that stay even inside the words of a list that covers all.
            shared: lists whose ways of saying may mean several concepts.
            endings: `(list, name, pack)` of what a word that stands in no list means where it ends so.
        """
        self._endings = endings
        self._ends = tuple(endings)
        self._covers = covers
        self._inside = inside
        self._shared = shared
        self._opening_with = opening_with
        self._met: dict[str, _Opening | None] = {}
        self._left: dict[tuple[tuple[Meant, ...], tuple[Meant, ...]], tuple[Meant, ...]] = {}

    def _opening(self, word: str) -> _Opening | None:
        """What opens with a word."""
        try:
            return self._met[word]
        except KeyError:
            said: dict[tuple[str, ...], set[Meant]] = {}
            for pack, list_name, name, words in self._opening_with(word):
                for way in (words, _terse(words)):
                    said.setdefault(way, set()).add((list_name, name, pack))
            found = self._met[word] = _Opening(said) if said else None
            return found

    def _beside(self, outer: tuple[Meant, ...], inner: tuple[Meant, ...]) -> tuple[Meant, ...]:
        """What words mean that lie inside others: what those hide is left out. The same ones come up in every note."""
        left = self._left.get((outer, inner))
        if left is None:
            left = self._left[outer, inner] = tuple(own for own in inner if not any(self._hides(o, own) for o in outer))
        return left

    def _hides(self, outer: Meant, inner: Meant) -> bool:
        """Whether what one list, of a pack, has found hides what another finds inside it."""
        hiding, hidden = outer[0], inner[0]
        if hiding == hidden and (hidden not in self._shared or outer[2] == inner[2]):
            return True
        covers = self._covers.get(hiding)
        return covers is not None and (hidden in covers or ("*" in covers and hidden not in self._inside))

    def find(self, words: list[str]) -> list[Concept]:
        """All concepts in a list of reading tokens, by place, longest first."""
        kept: list[Concept] = []
        seen: set[tuple[int, int, str, str]] = set()
        reach: list[tuple[int, int, tuple[Meant, ...]]] = []  # spans that may cover what follows
        for start, end, meant in self._said_in(words):
            if reach and reach[0][1] <= start:
                reach = [span for span in reach if span[1] > start]
            for first, last, outer in reach:
                if first <= start and end <= last and (first < start or end < last):
                    meant = self._beside(outer, meant)
            if end - start > 1 and meant:  # one word has nothing inside it
                reach.append((start, end, meant))
            for list_name, name, _ in meant:
                said = (start, end, list_name, name)
                if said not in seen:
                    seen.add(said)
                    kept.append(Concept(list_name, name, start, end))
        return kept

    def _said_in(self, words: list[str]) -> Iterator[tuple[int, int, tuple[Meant, ...]]]:
        """Every way of saying that stands in the words: its tokens, and the lists, names and packs that it may mean."""
        size = len(words)
        plain, pointing = _plain(words)
        met, opening = self._met, self._opening
        for start, word in enumerate(words):
            own = met[word] if word in met else opening(word)
            if own is None and word not in POINTING:
                if word.endswith(self._ends):
                    yield start, start + 1, (self._ending(word),)
                continue
            if own and pointing[start] > start + 1:  # neither this word nor the next is one that points
                sizes = own.beside.get(words[start + 1], own.alone) if start + 1 < size else own.alone
                as_the: _Opening | None = own
            else:
                as_the = own if plain[start] == word else opening(plain[start])
                sizes = own.sizes if own else ()
                if as_the is not own and as_the:
                    sizes = tuple(sorted({*sizes, *as_the.sizes}, reverse=True))
            for length in sizes:
                end = start + length
                if end > size:
                    continue
                if own and (meant := own.said.get(tuple(words[start:end]))):
                    yield start, end, meant
                if pointing[start] < end and words[end - 1] not in POINTING:  # 'to microfracture that' is all of it
                    if as_the and (meant := as_the.said.get(tuple(plain[start:end]))):
                        yield start, end, meant

    def _ending(self, word: str) -> Meant:
        """What a word means by the longest of its known ends."""
        return self._endings[max((end for end in self._ends if word.endswith(end)), key=len)]


def _plain(words: list[str]) -> tuple[list[str], list[int]]:
    """The words with 'the' for what points, and for each place where the next such word stands."""
    plain = list(words)
    for i, word in enumerate(words):
        if word in POINTING and not (word in NOW and words[i + 1 : i + 2] and words[i + 1] in WHEN):
            plain[i] = "the"
    ahead, at = [0] * len(words), len(words)
    for i in range(len(words) - 1, -1, -1):
        at = i if plain[i] != words[i] else at
        ahead[i] = at
    return plain, ahead


def _terse(words: tuple[str, ...]) -> tuple[str, ...]:
    """A way of saying without its inner articles, as in notes: 'out through portal', 'from posterior root'."""
    bare = (words[0], *(w for w in words[1:-1] if w not in ARTICLES), *words[-1:]) if len(words) > 2 else words
    return words if len(bare) == 2 and bare[0] in LOOSE else bare
