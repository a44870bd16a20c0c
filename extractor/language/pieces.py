"""A line cut into pieces: words, figures and marks.

The rules are those of spaCy's English tokenizer. Loading it takes a third of a short command's time, and most dictated
sentences are plain words, figures and stops that are cut in one way only: such lines are cut here, all others by spaCy.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple, Protocol

from extractor.language.quick import import_spacy

if TYPE_CHECKING:
    from spacy.tokenizer import Tokenizer

UNITS_GLUED = r"(?<=[0-9])(?=(?:mm|cm|cc|ml|mmHg|mmhg|in|deg|degrees?|min|mins|minutes?|weeks?|wks?|yo|N|ish)\b)"
"""'10mm' and '325mmHg' are a number and a unit; blank English splits only some of them."""
INFIXES = (r"(?<=[0-9])[–—x×/](?=[0-9])", UNITS_GLUED, r"(?<=[a-zA-Z])/(?=[a-zA-Z])")
PARTED = frozenset(
    "aint arent cannot cant cantve couldnt couldntve couldve darent didnt didntve doesnt doesntve doin dont dontve em"
    " goin gonna gotta hadnt hadntve hasnt havent havin hed hedve hellve hes howd howdve howll howllve howre hows howve"
    " id idve illve im ima isnt itd itdve itll itllve ive ll lovin maynt mayntve mightnt mightntve mightve mustnt"
    " mustntve mustve neednt needntve nothin notve nuff nuthin ol oughtnt oughtntve shant shantve shedve shellve shes"
    " shouldnt shouldntve shouldve somethin thatd thatdve thatll thatllve thats thered theredve therell therellve"
    " therere theres thereve thesed thesedve thesell thesellve thesere theseve theyd theydve theyll theyllve theyre"
    " theyve thisd thisdve thisll thisllve thiss thosed thosedve thosell thosellve thosere thoseve wasnt wed wedve"
    " wellve werent weve whatd whatdve whatll whatllve whatre whats whatve whend whendve whenll whenllve whenre whens"
    " whenve whered wheredve wherell wherellve wherere wheres whereve whod whodve wholl whollve whos whove whyd whydve"
    " whyll whyllve whyre whys whyve wont wontve wouldnt wouldntve wouldve xd xdd yall youd youdve youll youllve youre"
    " youve".split()
)
"""Words of nothing but letters for which spaCy has a rule of their own; most it cuts in two."""
SHORTENED = frozenset(
    "adm ak ala apr ariz ark aug bros calif co colo conn corp dec del dr feb fla ga gen gov ia id ill inc ind jan jr"
    " jul jun kan kans ky la ltd mar mass md messrs mich minn miss mo mont mr mrs ms mt neb nebr nev nov oct okla ore"
    " pa prof rep rev sen sep sept st tenn va vs wash wis".split()
)
"""Words that keep their stop, for spaCy."""
_SUBJECTS = "he how i it she that there these they this those we what when where who why you"
_HAVING = "could how i might must not should that there these they those we what when where who why would you"
_ENDINGS = {
    "n't": "ai are ca could dare did do does had has have is may might must need ought sha should was were wo would",
    "'d": _SUBJECTS,
    "'ll": _SUBJECTS,
    "'ve": _HAVING,
    "'re": "how there these they those we what when where who why you",
    "'m": "i",
    "'s": "he how she that there this what when where who why",
}
_CONTRACTED = {base + end: len(base) for end, bases in _ENDINGS.items() for base in bases.split()}
CUT = {
    "cannot": 3,
    **_CONTRACTED,
    **{bare: at for word, at in _CONTRACTED.items() if (bare := word.replace("'", "")) in PARTED},
}
"""Where words are cut in two, in small letters or with a capital: 'is|n't', 'that|s'."""
_WORD = r"(?:[A-Za-z]++-)*+(?:[A-Za-z]++(?<=[a-z])\.|[A-Z]{2,}+\.|[A-Za-z]++'[a-z]{1,2}+\.?+|[A-Za-z]++(?!\.))"
_NUMBER = r"[0-9]++(?:\.[0-9]++)?+(?:[-x/][0-9]++(?:\.[0-9]++)?+)*+(?:mm|cm|cc|ml|%)?+\.?+"
_CHUNK = rf"(?:(?:{_WORD}|{_NUMBER})[,;:?!]?+|n't|'(?:d|ll|m|re|s|ve)|[!-/:-@\[-`{{-~])"
CHUNK = re.compile(_CHUNK)
"""What stands between two blanks and may be cut here."""
_PIECE = re.compile(r"(?<![A-Za-z])(?:n't|'(?:d|ll|re|s))(?![a-z])|[A-Za-z]+(?:'[a-z]{1,2})?|[0-9]+(?:\.[0-9]+)?|[!-~]")


class Piece(Protocol):
    """A piece of a line, as spaCy's tokens are: its characters, where they begin, and the blank after them, if any."""

    @property
    def text(self) -> str:
        """The characters."""

    @property
    def idx(self) -> int:
        """The first character's place in the line."""

    @property
    def whitespace_(self) -> str:
        """The blank that follows, or nothing."""


class _Plain(NamedTuple):
    text: str
    idx: int
    whitespace_: str


def pieces(line: str) -> Sequence[Piece]:
    """Cut a line into pieces."""
    found = plain_pieces(line)
    return english()(line) if found is None else found


def plain_pieces(line: str) -> list[_Plain] | None:
    """The pieces of a line of plain words, figures and stops with one blank between; None for any other."""
    found: list[_Plain] = []
    at = 0
    for chunk in line.split(" "):
        own = _cut(chunk)
        if own is None:
            return None
        found += [_Plain(text, at + start, blank) for text, start, blank in own]
        at += len(chunk) + 1
    found[-1] = found[-1]._replace(whitespace_="")
    return found


@lru_cache(maxsize=8192)
def _cut(chunk: str) -> tuple[_Plain, ...] | None:
    """The pieces of what stands between two blanks, the last with the blank behind it; None where spaCy must cut it.

    Most chunks are words said again and again, so what was cut is kept.
    """
    if not CHUNK.fullmatch(chunk):
        return None
    found: list[_Plain] = []
    for match in _PIECE.finditer(chunk):
        text, start, end = match[0], match.start(), match.end()
        low = text.lower()
        at = CUT.get(low) or (len(text) - 2 if low[1:].endswith("'s") else 0)
        if at:
            if (low in CUT and text not in (low, low.capitalize())) or "-" in chunk[max(0, start - 1) : end + 1]:
                return None
            if "'" not in text and chunk[end : end + 1] == ".":
                return None  # 'im.' is 'i' and 'm.' to spaCy: it keeps a letter and its stop together
            found += [_Plain(text[:at], start, ""), _Plain(text[at:], start + at, "")]
        elif chunk[end : end + 1] == "." and (low in SHORTENED or (len(low) == 1 and low.isalpha())):
            return None
        elif ("'" in text[1:] and text != "n't") or low in PARTED:
            return None
        else:
            found.append(_Plain(text, start, ""))
    return (*found[:-1], found[-1]._replace(whitespace_=" "))


def is_one_piece(word: str) -> bool:
    """Whether a word is sure to be one piece: plain letters that spaCy has no rule for."""
    return word.isascii() and word.isalpha() and word.lower() not in PARTED


@lru_cache(maxsize=1)
def english() -> Tokenizer:
    """SpaCy's English tokenizer with own infixes (en dash, 'x' between digits, units glued to digits).

    It is what `spacy.blank("en")` has, but for a vocabulary that works out nothing about its words, which nothing here
    asks for. The special cases come last: each change after them would read them all again.
    """
    import_spacy()
    from spacy.lang.en import English
    from spacy.tokenizer import Tokenizer
    from spacy.util import compile_infix_regex, compile_prefix_regex, compile_suffix_regex
    from spacy.vocab import Vocab

    defaults = English.Defaults
    tokenizer = Tokenizer(
        Vocab(),
        prefix_search=compile_prefix_regex(defaults.prefixes or ()).search,
        suffix_search=compile_suffix_regex(defaults.suffixes or ()).search,
        infix_finditer=compile_infix_regex([*(defaults.infixes or ()), *INFIXES]).finditer,
        token_match=defaults.token_match,
        url_match=defaults.url_match,
    )
    tokenizer.rules = defaults.tokenizer_exceptions
    return tokenizer
