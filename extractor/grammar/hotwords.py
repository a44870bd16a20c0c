"""Words of the trade that the recognizer is told to expect, from the `[hotwords]` lists of the packs' `sounds*.txt`.

Whisper takes them as if they had been said just before, so they are worded as somebody would say them: an opening, then
phrases. In a trial on twelve recognized dictations they took the word error rate of the plain base model from 18.4% to
15.2%, a bare list of sixty words to 16.3% with more wrong numbers. The adapted model, which knows the words already,
gained nothing (7.3% without, 7.1% with, and more facts lost): it is not told them
(`extractor.speech.model.words_to_expect`).
"""

from __future__ import annotations

from functools import lru_cache

from extractor.grammar.packs import Grammar
from extractor.grammar.words import WordList, read_word_file

LIST = "hotwords"
OPENING = "opening"
MOST = 900
"""Characters at most, about 200 of the recognizer's tokens; it would cut off more than 223 itself."""


@lru_cache(maxsize=8)
def sound_lists(grammar: Grammar) -> tuple[WordList, ...]:
    """The lists of all packs' `sounds*.txt`, `common` first.

    Raises:
        GrammarError: for a file of another form.
    """
    paths = (path for folder in grammar.folders for path in sorted(folder.glob("sounds*.txt")))
    return tuple(word_list for path in paths for word_list in read_word_file(path, checked=False))


@lru_cache(maxsize=8)
def hotwords_of(grammar: Grammar) -> str:
    """The hotwords of all packs in force, `common` first; the last ones are left out where there are too many.

    Raises:
        GrammarError: for a sounds file of another form.
    """
    opening = ""
    phrases: dict[str, None] = {}
    for entry in (entry for own in sound_lists(grammar) if own.name == LIST for entry in own.entries.values()):
        if entry.name == OPENING:
            opening = opening or entry.spoken[0]
        else:
            phrases.update(dict.fromkeys(entry.spoken))
    kept: list[str] = []
    room = MOST - len(opening)
    for phrase in phrases:
        room -= len(phrase) + 2
        if room < 0:
            break
        kept.append(phrase)
    listed = ", ".join(kept)
    return f"{opening}: {listed}." if opening and listed else f"{opening}{listed}"
