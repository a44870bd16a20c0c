"""How words are spelled for the ear: small letters, numbers in words, abbreviations letter by letter."""

from __future__ import annotations

import re

ALPHABET = " abcdefghijklmnopqrstuvwxyz'"
"""Signs that the ear knows; its sign 0 is none of them (the blank)."""
ONES = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen "
    "eighteen nineteen"
).split()
TENS = "- - twenty thirty forty fifty sixty seventy eighty ninety".split()
UNITS = {
    "mm": "millimeters",
    "cm": "centimeters",
    "ml": "milliliters",
    "mmhg": "millimeters of mercury",
    "°": "degrees",
    "%": "percent",
    "&": "and",
    "=": "equals",
    "+": "plus",
    "#": "number",
}
FIGURES = re.compile(r"(?<![\d.])(\d{1,3}(?:,\d{3})+|\d+)(\.\d+)?")
SIZE = re.compile(r"\b([1-9])-0\b")
RANGE = re.compile(r"(?<=\d)\s*[-–]\s*(?=\d)")
LETTERS = re.compile(r"\b[A-Z]{2,5}\b")
SIGN = re.compile(r"mmHg|(?<![A-Za-z])(?:mm|cm|ml|mL)(?![A-Za-z])|[°%&=+#]")


def cardinal(value: int) -> str:
    """A whole number below a million in words, with no hyphen."""
    if value < 20:
        return ONES[value]
    if value < 100:
        return TENS[value // 10] + (f" {ONES[value % 10]}" if value % 10 else "")
    if value < 1000:
        return f"{ONES[value // 100]} hundred" + (f" {cardinal(value % 100)}" if value % 100 else "")
    return f"{cardinal(value // 1000)} thousand" + (f" {cardinal(value % 1000)}" if value % 1000 else "")


def digits(figures: str) -> str:
    """Figures one by one."""
    return " ".join(ONES[int(figure)] for figure in figures)


def spelled(text: str) -> str:
    """A text as it is said, in the ear's signs; figures in the plainest way ('14' is 'fourteen')."""
    text = SIZE.sub(lambda m: f"{ONES[int(m[1])]} oh", text.replace("’", "'"))
    text = RANGE.sub(" to ", text)
    text = SIGN.sub(lambda m: f" {UNITS[m[0].lower()]} ", text)
    text = LETTERS.sub(lambda m: " ".join(m[0]), text)
    text = FIGURES.sub(lambda m: f" {_number(m[1].replace(',', ''))}{_decimals(m[2])} ", text).lower()
    return " ".join("".join(sign if sign in ALPHABET else " " for sign in text).split())


def ways(text: str) -> tuple[str, ...]:
    """The ways in which a text is said, the plainest first: '155' also as 'one fifty five', '1,5' digit by digit."""
    found = [spelled(text)]
    figures = FIGURES.search(text)
    if figures and not figures[2] and len(figures[1]) in (2, 3) and figures[1].isdigit():
        value, rest = int(figures[1]), text[figures.end() :]
        short = f"{text[: figures.start()]} {{}} {rest}"
        if 100 < value < 1000 and value % 100:
            tail = value % 100
            found.append(spelled(short.format(f"{ONES[value // 100]} {'oh ' * (tail < 10)}{cardinal(tail)}")))
            found.append(spelled(short.format(f"{ONES[value // 100]} hundred and {cardinal(tail)}")))
        if value >= 20 or figures[1].startswith("0"):
            found.append(spelled(short.format(digits(figures[1]))))
    return tuple(dict.fromkeys(found))


def codes(said: str) -> list[int]:
    """The ear's signs of a spelled text."""
    return [1 + ALPHABET.index(sign) for sign in said]


def _number(figures: str) -> str:
    whole = figures == "0" or (len(figures) <= 4 and not figures.startswith("0"))
    return cardinal(int(figures)) if whole else digits(figures)


def _decimals(after: str | None) -> str:
    return f" point {digits(after[1:])}" if after else ""
