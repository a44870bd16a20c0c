"""Numbers in training text: how they are said, and the one way they are written.

The convention is ordinary Whisper's, so that training changes as little as possible: digits for ten and more, for
decimals, identifiers and grades, and for every number with a unit of measure or in one row with such a number ("2 to
3 millimeters", "18 by 9"); words for a count below ten ("four sutures", "six weeks") and for fractions ("two and a
half"). Letters said one by one are joined ("ACL"), units are written in full ("millimeters"), and a spoken sign stays
a word ("comma", "period").

In a sentence under construction a number stands as `[eighteen=18]`: what is said, and its figures.
"""

from __future__ import annotations

import re
from random import Random

from extractor.speech.spelling import ONES, TENS, cardinal

TAG = re.compile(r"\[([^=\]]*)=([^\]]*)\]")
UNIT = re.compile(
    r"[\s-]*(millimet|centimet|met(er|re)|inch|degree|millilit|lit(er|re)|cc\b|c c\b|percent|newton|milligram|gram|"
    r"square|cubic|"
    r"mm\b|cm\b|ml\b|mg\b|mmhg|a p\b|m l\b|pounds)",
    re.IGNORECASE,
)
ROW = re.compile(
    r"[\s,-]*((to|by|and|or|through|times|no|sorry|correction|make that|not|wide|deep|maybe|about|in|between)[\s,]*)*$",
    re.IGNORECASE,
)
NAMED = re.compile(
    r"(grade|outerbridge|icrs|number|type|stage|step|minus|mark it|tourniquet up at|tourniquet to)\s*$", re.IGNORECASE
)
LETTERS = re.compile(r"\b[A-Z](?: [A-Z])+\b(?!')")
PRODUCT = re.compile(r"\s*by\s*$", re.IGNORECASE)
WORDS = {word: value for value, word in enumerate(ONES)} | {w: 10 * i for i, w in enumerate(TENS) if i > 1}
ZERO_LETTER = {"oh": 0}
"""Zero inside a number ("one oh five"), never at its beginning."""


def say(value: float, draw: Random) -> str:
    """A number as people say it: several ways for hundreds and for decimals."""
    whole, tenths = divmod(round(value * 10), 10)
    if tenths:
        lead = cardinal(whole) if whole or draw.random() < 0.4 else ""
        return f"{lead} point {ONES[tenths]}".strip()
    if 100 < whole < 1000 and whole % 100:
        rest = whole % 100
        short = f"{ONES[whole // 100]} {'oh ' + ONES[rest] if rest < 10 else cardinal(rest)}"
        return draw.choice([cardinal(whole), short, f"{ONES[whole // 100]} hundred and {cardinal(rest)}"])
    return cardinal(whole)


def tag(value: float, draw: Random) -> str:
    """A number for a sentence under construction."""
    figures = f"{value:.1f}".removesuffix(".0")
    if figures.endswith(".5") and value > 1 and draw.random() < 0.3:
        return f"[{cardinal(int(value))} and a half={cardinal(int(value))} and a half]"
    return f"[{say(value, draw)}={figures}]"


def tag_digits(figures: str) -> str:
    """An identifier, said digit by digit and letter by letter."""
    said = " ".join(ONES[int(c)] if c.isdigit() else "dash" if c == "-" else c for c in figures)
    return f"[{said}={figures.replace('-', ' dash ')}]"


def tag_words(text: str) -> str:
    """Turn number words of a plain sentence into tagged numbers."""
    number = "|".join([*sorted(WORDS, key=len, reverse=True), "hundred", "thousand", "point"])
    run = re.compile(
        rf"\b(?:{number})(?:[ -](?:{number}|oh(?= (?:{number})\b)|and(?= (?:{number})\b)(?<=hundred and)))*\b",
        re.IGNORECASE,
    )

    def replace(match: re.Match[str]) -> str:
        said = match[0].lower().replace("-", " ")
        figures = _figures(said.replace(" and ", " ").split())
        return f"[{match[0]}={figures}]" if figures else match[0]

    return run.sub(replace, text)


def _figures(words: list[str]) -> str | None:
    # The figures of a run of number words; None where it is no one number.
    if "point" in words:
        at = words.index("point")
        whole, rest = _figures(words[:at]) if at else "0", _figures(words[at + 1 :])
        return f"{whole}.{rest}" if whole and rest else None
    digits = WORDS | ZERO_LETTER
    if len(words) > 2 and all(digits.get(w, 99) < 10 for w in words):
        return "".join(str(digits[w]) for w in words)
    if "oh" in words:
        return None
    total = part = 0
    last = 1000
    for word in words:
        if word == "hundred":
            part, last = (part or 1) * 100, 100
        elif word == "thousand":
            total, part, last = total + (part or 1) * 1000, 0, 1000
        else:
            value = WORDS[word]
            if part and last < 100 and value >= 10 and 0 < part < 100 and len(words) in (2, 3):
                part = part * 100 + value  # "one fifty five", "twenty twenty nine"
            elif part and (last < 20 or (last < 100 and value >= 10)):
                return None
            else:
                part += value
            last = value
    return str(total + part)


def redraw(text: str, draw: Random) -> str:
    """Change each tagged whole number above one for another of its size."""

    def replace(match: re.Match[str]) -> str:
        if not match[2].isdigit() or int(match[2]) < 2 or match[2].startswith("0"):
            return match[0]
        value = int(match[2])
        low, high = (2, 9) if value < 10 else (10, 99) if value < 100 else (100, 350) if value < 400 else (value, value)
        return tag(draw.randint(low, high), draw)

    return TAG.sub(replace, text)


def settle(sentence: str) -> tuple[str, str]:
    """What is said and what is written of a sentence with tagged numbers."""
    tags = list(TAG.finditer(sentence))
    digits = [False] * len(tags)
    for i in reversed(range(len(tags))):
        after = sentence[tags[i].end() : tags[i + 1].start() if i + 1 < len(tags) else len(sentence)]
        before = sentence[tags[i - 1].end() if i else 0 : tags[i].start()]
        figures = tags[i][2]
        small = figures.isdigit() and len(figures) == 1
        measured = bool(UNIT.match(after)) or bool(NAMED.search(before))
        in_row = i + 1 < len(tags) and bool(ROW.fullmatch(after)) and (digits[i + 1] or bool(PRODUCT.match(after)))
        digits[i] = not small or measured or in_row
        if i + 1 < len(tags) and PRODUCT.fullmatch(after):
            digits[i + 1] = True
    said, written, at = "", "", 0
    for match, figure in zip(tags, digits, strict=True):
        text = sentence[at : match.start()]
        said += text + match[1]
        written += text + (match[2] if figure else match[1])
        at = match.end()
    written = LETTERS.sub(lambda m: m[0].replace(" ", ""), written + sentence[at:])
    return _capital(said + sentence[at:]), _capital(written)


def _capital(text: str) -> str:
    text = re.sub(r"\s+([,.:;?])", r"\1", " ".join(text.split()))
    text = re.sub(r"^[,.:; ]+", "", text)
    return re.sub(r"(^|[.:?] )([a-z])", lambda m: m[1] + m[2].upper(), text)
