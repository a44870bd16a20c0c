"""Reading tokens: the words of a note as they are read, each holding its place in the note.

The note's text is never rewritten. A reading token has the lower-cased word (or what a spoken
command or a repair makes of it) and the characters `text[start:end]` it stands for.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass, field, replace
from functools import lru_cache

from extractor.language.phrases import common_lists, ways
from extractor.language.pieces import Piece, is_one_piece, pieces

QUOTES = str.maketrans({"’": "'", "‘": "'", "–": "-", "—": "-", "−": "-", "\u2010": "-", "\u2011": "-", "×": "x"})
ABBREVIATIONS = frozenset({"no", "approx", "vs", "dr", "mr", "mrs", "st"})
FILLERS = frozenset({"uh", "um", "uhm", "umm", "er", "erm", "hmm", "mhm", "ehm", "uhh", "ermm"})
SECOND_THOUGHT = "hmm"
"""A sound of doubt that is kept: between two numbers it puts the first right."""
ARROWS = frozenset({"->", "=>", "→", "-->"})
TRAILING = frozenset({"...", "…", "..", "...."})
HESITATING = TRAILING | {","}
LEADING = frozenset(
    "the a an of in at on to with from and or for by is was are were through into over under about its his her".split()
)
"""Words that something must follow: a pause behind one is no end."""
UNITS = frozenset("one two three four five six seven eight nine".split())
TEENS = frozenset("ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split())
TENS = dict.fromkeys("twenty thirty forty fifty sixty seventy eighty ninety".split(), UNITS)
TENS["hundred"] = UNITS | TEENS | TENS.keys() | {"and"}
"""Words of a number, and those by which it may go on."""
UNMARKED = {"nt": "n't", "s": "'s"}
"""What a recognizer writes without its apostrophe, and the tokenizer cuts off all the same: 'didnt', 'thats'."""
LETTERS_DOTTED = re.compile(r"(?:[a-z]\.){2,}")
PROSE = re.compile(r"\s*[A-Za-z](?![.)])[^:\n]*[.?!]\s*$")
"""A line of whole sentences: no heading stands in it, no number or bullet before it."""
SOFT_LINE = re.compile(r"[ \t]*\n[ \t]*(?=[a-z(])")


@dataclass
class Tokens:
    """Parallel lists: word, first character, character after the last; `text[starts[i]:ends[i]]`."""

    text: str
    words: list[str] = field(default_factory=list)
    starts: list[int] = field(default_factory=list)
    ends: list[int] = field(default_factory=list)

    def replaced(self, places: Collection[int], word: str) -> Tokens:
        """The same tokens, with another word read at some places."""
        read = [word if i in places else own for i, own in enumerate(self.words)]
        return replace(self, words=read)

    def without(self, places: Collection[int]) -> Tokens:
        """The tokens but for those at some places."""
        out = Tokens(self.text)
        for i, word in enumerate(self.words):
            if i not in places:
                out.add(word, self.starts[i], self.ends[i])
        return out

    def add(self, word: str, start: int, end: int) -> None:
        """Append one reading token."""
        self.words.append(word)
        self.starts.append(start)
        self.ends.append(end)

    def __len__(self) -> int:
        """Count the tokens."""
        return len(self.words)

    def said(self, start: int, end: int) -> str:
        """The note's own characters behind the tokens `[start, end)`."""
        return self.text[self.starts[start] : self.ends[end - 1]] if end > start else ""


def is_whole(word: str) -> bool:
    """Whether a word is sure to be one reading token."""
    return is_one_piece(word) and word not in FILLERS


def tokenize(text: str) -> Tokens:
    """Cut a note into reading tokens, linear in its length.

    A line break is a token of its own where it ends a line of thought; after a hard-wrapped line (the next one opens in
    small letters), and between two lines of whole sentences, it is a space. A hyphen inside a word joins its parts
    ('all-inside' is read as 'all', 'inside'), one between digits is kept. Three dots end a sentence where the next word
    has a capital that is no 'I', and are a pause elsewhere.
    """
    tokens = Tokens(text)
    soft = {m.start() for m in SOFT_LINE.finditer(text)}
    offset = 0
    lines = text.splitlines(keepends=True)
    prose = [bool(PROSE.match(line)) for line in lines]
    for i, line in enumerate(lines):
        body = line.rstrip("\r\n")
        _add_line(tokens, body, offset)
        offset += len(line)
        at = offset - (len(line) - len(body))
        stripped = len(body) - len(body.rstrip())
        wrapped = (len(body) >= 60 and (at - stripped) in soft) or all(prose[i : i + 2])
        if len(line) > len(body) and tokens.words and tokens.words[-1] != "\n" and not wrapped:
            tokens.add("\n", at, offset)
    return tokens


def _add_line(tokens: Tokens, line: str, offset: int) -> None:
    doc = pieces(line.translate(QUOTES)) if line.strip() else ()
    size = len(doc)
    for i, token in enumerate(doc):
        text, start = token.text, offset + token.idx
        word = text.lower()
        if word.isalpha() and word not in FILLERS and word not in UNMARKED:  # nearly every token
            tokens.add(word, start, start + len(text))
            continue
        before = doc[i - 1] if i else None
        after = doc[i + 1] if i + 1 < size else None
        if word in FILLERS and _puts_right(tokens, [t.text.lower() for t in doc[i + 1 : i + 3]]):
            tokens.add(SECOND_THOUGHT, start, start + len(text))
            continue
        if not word.strip() or word in FILLERS or (word in HESITATING and _hesitates(tokens, word, before, after)):
            continue
        if word == ">" and tokens.words and tokens.words[-1] == "-" and tokens.ends[-1] == start:
            tokens.words[-1] = ","  # an arrow that was cut in two
        elif word in TRAILING:
            ends = after is None or (after.text[0].isupper() and after.text != "I")
            tokens.add("." if ends else ",", start, start + len(text))
        elif word in ARROWS or _is_pause(word, token, before, after):
            tokens.add(",", start, start + len(text))
        elif not (_is_inner_hyphen(word, token, before, after) or _is_short_stop(word, tokens, start, after)):
            _add_word(tokens, word, token, start, after)


def _puts_right(tokens: Tokens, behind: list[str]) -> bool:
    """'Fifty-five, hmm, sixty degrees': a sound of doubt set off between two numbers puts the first one right."""
    ahead = [word for word in behind if word != ","]
    numbers = tokens.words[-1:] == [","] and _opens_number(tokens.words[-2:-1]) and _opens_number(ahead[:1])
    return numbers and behind[0] == ","


def _opens_number(said: list[str]) -> bool:
    word = said[0] if said else ""
    return word in UNITS | TEENS or word.split("-")[0] in TENS or word.replace(".", "").isdigit()


def _hesitates(tokens: Tokens, word: str, before: Piece | None, after: Piece | None) -> bool:
    """'The, um, rim is um, three', 'forty... one': a pause of somebody who looks for words parts nothing."""
    said = tokens.words[-1] if tokens.words else ""
    if said == "," or (before is not None and before.text.lower() in FILLERS):
        return True
    follows = after.text.lower() if after is not None else ""
    if word == ",":
        return said in LEADING and follows in FILLERS
    return said in LEADING or (said in TENS and follows in TENS[said])


def _is_pause(word: str, token: Piece, before: Piece | None, after: Piece | None) -> bool:
    """A dash or a slash with room on both sides parts two thoughts; between figures it does not."""
    if word not in {"-", "/"} or before is None or after is None or not (before.whitespace_ and token.whitespace_):
        return False
    return word == "/" or not after.text[0].isdigit()


def _is_inner_hyphen(word: str, token: Piece, before: Piece | None, after: Piece | None) -> bool:
    if word != "-" or before is None or after is None or before.whitespace_ or token.whitespace_:
        return False
    return before.text[-1:].isalpha() and after.text[:1].isalpha()


def _is_short_stop(word: str, tokens: Tokens, at: int, after: Piece | None) -> bool:
    """The stop of 'no. 5' or of 'post. root', which ends no sentence."""
    if word != "." or not tokens.words or after is None:
        return False
    last = tokens.words[-1]
    if last in ABBREVIATIONS and any(c.isdigit() for c in after.text):
        if last == "no" and tokens.words[-2:-1] not in ([":"], [","], ["\n"]) and tokens.ends[-1] == at:
            tokens.words[-1], tokens.ends[-1] = "no.", at + 1  # 'a no. 2 suture' denies nothing; 'Drains: no.' does
        return True
    return last in _shortened() and not after.text[0].isupper()


@lru_cache(maxsize=1)
def _shortened() -> frozenset[str]:
    """Words written short: a period after them and before a small letter or a digit ends no sentence."""
    return frozenset(way for way, _ in ways(common_lists("commands.txt")["shortened"]))


def _add_word(tokens: Tokens, word: str, token: Piece, start: int, after: Piece | None) -> None:
    ends_here = after is None or after.text[:1].isupper()
    if len(word) == 2 and word[0] == ")" and word[1] in ":,.;":
        tokens.add(")", start, start + 1)
        tokens.add(word[1], start + 1, start + 2)
        return
    if LETTERS_DOTTED.fullmatch(word):
        tokens.add(word.replace(".", ""), start, start + len(word))
    elif len(word) > 2 and word[-1] == "." and word[:-1].isalpha() and word[:-1] not in ABBREVIATIONS:
        tokens.add(word[:-1], start, start + len(word) - 1)
        if word[:-1] not in _shortened() or ends_here:
            tokens.add(".", start + len(word) - 1, start + len(word))
    elif len(word) == 2 and word[1] == "." and word[0].isalpha():
        tokens.add(word[0], start, start + 1)
        if ends_here:
            tokens.add(".", start + 1, start + 2)
    else:
        glued = word in UNMARKED and tokens.words and tokens.ends[-1] == start and tokens.words[-1].isalpha()
        tokens.add(UNMARKED[word] if glued else word, start, start + len(token.text))
