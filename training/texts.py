"""Sentences and whole notes to be spoken, drawn from the grammar packs and from `phrases.txt`.

A new pack teaches the recognizer its words with no change here: every way of saying in its word lists stands in
sentences, its rules' examples are said with other numbers, and quantities keep to the ranges of its limits.
"""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from random import Random
from typing import Any
from zlib import crc32

import yaml

from extractor.grammar.inflect import spellings
from extractor.grammar.packs import Grammar, load_grammar
from extractor.speech.spelling import ONES, cardinal
from training.numerals import redraw, settle, tag, tag_digits, tag_words

PHRASES = Path(__file__).with_name("phrases.txt")
PROCEDURES = ("transplant", "transplant", "transplant", "repair", "repair", "other")
SPREAD = {"mm": 55, "deg": 140, "min": 150, "mL": 150}
"""Highest number drawn for a unit where the limits name no usual range."""
STYLES = ("formal", "narrated", "terse", "run-on", "spoken")
BARE_WORDS = frozenset({"i", "we", "it", "is", "was", "were", "the", "a", "an", "has", "been"})
APART = ("carrier", "number", "alike")
"""Parts of `phrases.txt` that belong to no note."""
SIGNS = {",": " comma", ".": " period", ":": " colon", ";": " semicolon", "?": " question mark"}
TYPICAL_UNITS = (
    "millimeters",
    "centimeters",
    "degrees",
    "minutes",
    "milliliters",
    "cc",
    "percent",
    "newtons",
    "millimeters of mercury",
    "square millimeters",
)
MISHEARD = re.compile(
    r"\b(roof|interior|wide|bride|grass|giraffe|craft|route|sutra|future|port|wire|test|knee|need|tied|tide|"
    r"tire|tear|tears|tier|deep|deeper|wait|waiting|weight|weights|ten|tent|tender|rip|rhythm|lever|fiscal|literal|later|inferior|superior|meet|medal|metal|deposit|shaft)\b"
)


@dataclass(frozen=True)
class Line:
    """A sentence: what the voice says, what the recognizer should write, and the note or list it is part of."""

    said: str
    written: str
    session: str
    trade: bool


@dataclass(frozen=True)
class Material:
    """What sentences are drawn from."""

    parts: dict[tuple[str, str], tuple[str, ...]]
    lists: dict[str, dict[str, tuple[str, ...]]]
    ranges: dict[str, tuple[float, float, str]]
    units: dict[str, tuple[str, ...]]
    examples: tuple[str, ...]


def read_material(grammar: Grammar | None = None, phrases: Path = PHRASES) -> Material:
    """Read phrases, word lists, limits and rule examples."""
    grammar = grammar or load_grammar()
    parts: dict[tuple[str, str], list[str]] = {}
    key = ("", "")
    for raw in phrases.read_text(encoding="utf-8").splitlines():
        line = raw.strip()
        if line.startswith("["):
            *first, last = line.strip("[]").split()
            key = (" ".join([*first, last]), "") if last not in PROCEDURES else (" ".join(first), last)
            parts[key] = []
        elif line and not line.startswith("#"):
            parts[key].append(line)
    lists: dict[str, dict[str, tuple[str, ...]]] = {}
    for name, entry in grammar.words:
        ways = tuple(dict.fromkeys(form for way in entry.spoken for form in spellings(way)))
        lists.setdefault(name, {})[entry.name] = lists.get(name, {}).get(entry.name, ()) + ways
    ranges: dict[str, tuple[float, float, str]] = {}
    units: dict[str, tuple[str, ...]] = {"": ("",)}
    for folder in grammar.folders:
        if (folder / "limits.toml").exists():
            for name, limit in tomllib.loads((folder / "limits.toml").read_text(encoding="utf-8")).items():
                if found := limit.get("usual") or limit.get("possible"):
                    low, high = found
                    unit = limit.get("unit", "")
                    ranges[name] = (max(0, low), min(high, SPREAD.get(unit, high)), unit)
        if (folder / "units.txt").exists():
            units |= _units(folder / "units.txt")
    examples = tuple(e.split(" -> ")[0] for rule in grammar.rules for e in (*rule.examples, *rule.never))
    return Material({k: tuple(v) for k, v in parts.items()}, lists, ranges, units, examples)


def _units(path: Path) -> dict[str, tuple[str, ...]]:
    # UCUM code to the unit's everyday names.
    lines = [line.split("=") for line in path.read_text(encoding="utf-8").splitlines() if "=" in line]
    ways: dict[str, list[str]] = {}
    codes: dict[str, str] = {}
    for name, rest in ((left.strip(), right.strip()) for left, right in (line[:2] for line in lines)):
        if " | " in rest:
            ways.setdefault(name, []).extend(w.strip() for w in rest.split("|"))
        else:
            codes.setdefault(name, rest)
    return {
        code: tuple(w for w in TYPICAL_UNITS if w in ways.get(name, ())) or (name.replace("-", " "),)
        for name, code in codes.items()
    }


def fill(template: str, material: Material, draw: Random) -> str:
    """Fill a phrase; numbers stay tagged (`numerals`)."""
    text = template
    while match := re.search(r"\(([^()]*)\)", text):
        text = text[: match.start()] + draw.choice(match[1].split("|")) + text[match.end() :]
    text = re.sub(r"<([a-z-]+)(:[a-z-]+)?(\*)?>", partial(_word, material, draw), text)
    return re.sub(r"\{([^}]*)\}", partial(_quantity, material, draw), text)


def _word(material: Material, draw: Random, match: re.Match[str]) -> str:
    name, concept, bare = match[1], match[2], match[3]
    concepts = material.lists[draw.choice(sorted(material.lists)) if name == "any" else name]
    chosen = concept[1:] if concept else draw.choice(sorted(concepts))
    return chosen.replace("-", " ") if bare else spelt(draw.choice(concepts[chosen]))


def spelt(way: str) -> str:
    """A way of saying as written: letters said one by one as an abbreviation, clitics joined."""
    way = re.sub(r"\b([a-z])(?: ([a-z]))+\b", lambda m: m[0].replace(" ", "").upper(), way)
    return (
        re.sub(r"\b(acl|pcl|mcl|lcl|mri|icrs|rom|eua|mat|mm|lm)\b", lambda m: m[1].upper(), way)
        .replace(" 's", "'s")
        .replace(" n't", "n't")
        .replace(" 'd", "'d")
        .replace("i'd", "I'd")
    )


def _quantity(material: Material, draw: Random, match: re.Match[str]) -> str:
    slot = match[1]
    if slot == "id":
        return tag_digits(
            draw.choice(["", "M ", "Q ", "T "])
            + "".join(draw.choice("0123456789") for _ in range(draw.choice([4, 4, 5])))
        )
    if slot == "year":
        year = draw.randint(2015, 2034)
        return f"[twenty {cardinal(year - 2000)}={year}]"
    if slot.startswith("="):
        return tag(float(slot[1:]), draw)
    taken_back = slot.startswith("no:")
    slot = slot.removeprefix("no:")
    bare = slot.endswith("#")
    if span := re.fullmatch(r"([\d.]+)-([\d.]+)(?:/(\d+))?", slot):
        step = float(span[3] or (0.1 if span[1].startswith("0.") else 0.5 if "." in slot else 1))
        low, high = float(span[1]), float(span[2])
        return tag(low + step * draw.randint(0, round((high - low) / step)), draw)
    low, high, unit = material.ranges[slot.rstrip("#")]
    values = [_value(low, high, draw) for _ in range(2)]
    word = draw.choice(material.units[unit])
    noun = (
        word.replace("s ", " ", 1).removesuffix("s")
        if values[0] == 1 and word != "cc" and "mercury" not in word
        else word
    )
    if taken_back:
        middle = draw.choice([", no, ", ", correction, ", ", sorry, ", " no ", ", make that ", ", scratch that, "])
        first = draw.choice(["", " " + word])
        return f"{tag(values[1], draw)}{first}{middle}{tag(values[0], draw)} {noun}"
    return tag(values[0], draw) + ("" if bare else f" {noun}")


def _value(low: float, high: float, draw: Random) -> float:
    if high >= 200 and low >= 50:
        return 5.0 * draw.randint(round(low / 5), round(high / 5))
    if high <= 13 and draw.random() < 0.3:
        return draw.randint(round(2 * low), round(2 * high)) / 2
    if 13 <= high < 60 and draw.random() < 0.08:
        return draw.randint(max(1, round(low)), round(high)) + 0.5
    if low < 20 <= high and draw.random() < 0.25:
        return float(draw.randint(13, 19))  # the teens, which are heard as tens or as one figure
    return float(draw.randint(max(round(low), 0), round(high)))


def note(material: Material, draw: Random, session: str) -> Iterator[Line]:
    """A whole note in one of the styles, from the opening to the plan."""
    procedure, style = draw.choice(PROCEDURES), draw.choice(STYLES)
    sentences: list[str] = []
    for (part, kind), lines in material.parts.items():
        if part in APART or kind not in ("", procedure):
            continue
        for template in draw.sample(lines, min(len(lines), draw.randint(1, 4 if kind else 3))):
            sentences.append(fill(template, material, draw))
        if style == "narrated" and draw.random() < 0.3:
            sentences.append(fill(draw.choice(material.parts["aside", ""]), material, draw))
    yield from (Line(*settle(s), session, True) for s in styled(sentences, style, draw))


def styled(sentences: list[str], style: str, draw: Random) -> Iterator[str]:
    """Sentences as one who dictates in this style would say them."""
    if style == "run-on":
        at = 0
        while at < len(sentences):
            count = draw.randint(2, 4)
            joined = sentences[at].rstrip(".")
            for s in sentences[at + 1 : at + count]:
                joined += draw.choice([" and ", " and then ", ", ", " "]) + s[0].lower() + s[1:].rstrip(".")
            yield joined.replace(". ", ", ").replace(": ", " ")
            at += count
    elif style == "spoken":
        for s in sentences:
            spoken = re.sub(r"([,.:;?])(?=\s|$)", lambda m: SIGNS[m[1]], s)
            yield spoken + (
                draw.choice([" new paragraph", " new line", " next paragraph"]) if draw.random() < 0.12 else ""
            )
    elif style == "terse":
        for s in sentences:
            words = s.split()
            kept = (
                [w for w in words if w.lower() not in BARE_WORDS] if len(words) > 4 and draw.random() < 0.6 else words
            )
            yield " ".join(kept)
    else:
        yield from sentences


def trade_lines(material: Material, draw: Random, notes: int) -> Iterator[Line]:
    """All trade text: notes, every rule example with redrawn numbers, every word of every list, all numbers."""
    for i in range(notes):
        yield from note(material, draw, f"note{i}")
    examples = [e for e in material.examples for _ in range(2)]
    draw.shuffle(examples)
    for i, example in enumerate(examples):
        tagged = tag_words(example)
        yield Line(*settle(redraw(tagged, draw) if i % 3 else tagged), f"rules{i // 8}", True)
    ways = [spelt(w) for concepts in material.lists.values() for ws in concepts.values() for w in ws if not w.isdigit()]
    draw.shuffle(ways)
    carriers, i, at = material.parts["carrier", ""], 0, 0
    while at < len(ways):
        template = draw.choice(carriers)
        count = template.count("<any>")
        chosen = (ways[at : at + count] + ["the end"] * count)[:count]
        at += count
        for way in chosen:
            template = template.replace("<any>", tag_words(way), 1)
        yield Line(*settle(fill(template, material, draw)), f"words{i // 8}", True)
        i += 1
    for part, share in (("number", 5), ("alike", 2)):
        for i in range(notes * share):
            written = settle(fill(draw.choice(material.parts[part, ""]), material, draw))
            yield Line(*written, f"{part}s{i // 10}", True)


def own_lines(paths: Sequence[Path], draw: Random, times: int = 3) -> Iterator[Line]:
    """Sentences of notes that hold no figures, each said a few times, with other numbers but for the first time."""
    for path in paths:
        note = yaml.safe_load(path.read_text(encoding="utf-8"))["note"]
        pieces = (piece.strip() for piece in re.split(r"(?<=[.?!])\s+|\n+", note))
        sentences = [piece for piece in pieces if re.fullmatch(r"[A-Za-z ,.;:'?!-]{8,260}", piece)]
        for time in range(times):
            for s in sentences:
                tagged = tag_words(s)
                yield Line(*settle(redraw(tagged, draw) if time else tagged), f"own-{path.stem}-{time}", True)


def plain_lines(glosses: list[Path], draw: Random, count: int, *, judging: bool = False) -> Iterator[Line]:
    """Everyday sentences: the examples of WordNet's glosses, those with words like the trade's first.

    One in twelve, told by its letters, is left to judging.
    """
    found: list[str] = []
    for path in glosses:
        for quote in re.findall(r'"([^"]{18,140})"', path.read_text(encoding="utf-8", errors="ignore")):
            if re.fullmatch(r"[A-Za-z ,.;:'?!-]+", quote) and " " in quote:
                found.append(quote.strip())
    found = [q for q in found if (crc32(q.encode()) % 12 == 0) == judging]
    alike = [q for q in found if MISHEARD.search(q)]
    draw.shuffle(found)
    draw.shuffle(alike)
    chosen = list(dict.fromkeys(alike[: count // 4] + found))[:count]
    draw.shuffle(chosen)
    for i, quote in enumerate(chosen):
        text = quote[0].upper() + quote[1:] + ("" if quote[-1] in ".?!" else ".")
        yield Line(text, text, f"plain{i // 8}", False)


def everyday_numbers(draw: Random, count: int) -> Iterator[Line]:
    """Everyday sentences with numbers, so that numbers do not call up the trade."""
    frames = (
        "The train leaves in {} minutes.",
        "She bought {} apples and {} pears.",
        "It is {} degrees outside today.",
        "He ran {} kilometers in {} minutes.",
        "We need {} chairs for the party.",
        "The house is {} years old.",
        "Turn left after {} meters, then right.",
        "That will be {} dollars, please.",
        "I slept {} hours last night.",
        "The board is {} inches wide and {} inches long.",
        "Chapter {} begins on page {}.",
        "My room is number {}.",
    )
    for i in range(count):
        frame = draw.choice(frames)
        while "{}" in frame:
            frame = frame.replace(
                "{}", tag(draw.choice([draw.randint(2, 20), draw.randint(13, 99), draw.randint(100, 320)]), draw), 1
            )
        yield Line(*settle(frame), f"count{i // 8}", False)


def sayable(text: str) -> str:
    """Text for a synthesizer: abbreviations letter by letter, two-oh with no hyphen."""
    text = re.sub(r"\b[A-Z]{2,5}\b", lambda m: " ".join(m[0]), text)
    return re.sub(r"(\w)-(oh)\b", r"\1 \2", text).replace("’", "'")


def write_lines(lines: list[Line], path: Path) -> None:
    """Write lines as JSON, one a line."""
    path.write_text("".join(json.dumps(vars(line)) + "\n" for line in lines), encoding="utf-8")


def read_lines(path: Path) -> list[Line]:
    """Read what `write_lines` wrote."""
    loaded: list[dict[str, Any]] = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]
    return [Line(**entry) for entry in loaded]


__all__ = [
    "ONES",
    "Line",
    "cardinal",
    "everyday_numbers",
    "note",
    "own_lines",
    "plain_lines",
    "read_lines",
    "read_material",
    "sayable",
    "trade_lines",
    "write_lines",
]
