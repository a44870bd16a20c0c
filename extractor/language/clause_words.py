"""Words of English by which clauses are told apart. They are of the language, not of the trade."""

from __future__ import annotations

SENTENCE_END = frozenset({".", "?", "!", ";", "\n"})
PAUSES = frozenset({",", ":", "(", ")"})
CONNECTORS = frozenset({
    "and", "but", "then", "so", "because", "while", "which", "that", "after", "before", "when", "where", "although",
    "though", "or", "nor", "if", "until", "since", "who",
})  # fmt: skip
FINITE = frozenset(
    {"was", "were", "is", "are", "'s", "has", "had", "have", "measured", "measures", "showed", "shows", "got", "looks"}
)
FINITE_RUN_ON = FINITE | frozenset({
    "came", "comes", "went", "goes", "took", "made", "gave", "lay", "held", "holds", "kept", "began", "begins", "runs",
    "ran", "stays", "stayed", "looked", "needed", "needs", "said", "sits", "sat", "did", "does", "got", "can", "could",
    "will", "would", "starts", "started", "wanted", "wants", "asked", "asks", "suggested", "offered", "thought", "told",
})  # fmt: skip
"""Verbs that also open a subject where nothing is punctuated; elsewhere too many of them are nouns."""
LEADS = frozenset(
    {
        "to",
        "not",
        "n't",
        "never",
        "be",
        "been",
        "being",
        "we",
        "i",
        "he",
        "she",
        "it",
        "they",
        "also",
        "just",
        "which",
        "that",
        "who",
    }
)
"""Words after which an action goes on with what stands before."""
ENDS_OBJECT = frozenset({"it", "them", "him"})
"""After these a noun with a verb opens a clause of its own."""
FINAL = frozenset({"anymore", "either", "obviously", "afterwards", "afterward", "alone", "today"})
"""Words that end what is said: '... did not catch anymore | lateral femoral condyle ...'."""
ORDINALS = frozenset({"first", "second", "third", "last", "previous", "original"})
"""Words that open a subject behind another thing: '... on the right knee | first ACL was done years ago'."""
DENIERS = frozenset({"no", "without", "neither", "never"})
"""Words that belong to the action they stand before: '... with the shaver | no microfracture'."""
DETERMINERS = frozenset(
    {
        "the",
        "a",
        "an",
        "this",
        "these",
        "both",
        "each",
        "all",
        "two",
        "three",
        "four",
        "another",
        "one",
        "neither",
        "either",
        "such",
        "any",
        "our",
        "their",
        "your",
        "my",
        "his",
        "her",
        "its",
    }
)
PRONOUNS = frozenset({"i", "we", "he", "she", "they", "there", "nothing", "somebody"})
UNREAL = frozenset({"would", "'d", "could", "might"})
PREPOSITIONS = frozenset(
    {
        "of",
        "in",
        "on",
        "at",
        "to",
        "from",
        "with",
        "for",
        "through",
        "over",
        "under",
        "by",
        "into",
        "between",
        "along",
        "around",
        "off",
        "about",
    }
)
POINTED = PREPOSITIONS | {"after", "before", "like", "than"}
"""After these 'that' points back and opens nothing: 'and after that the shaver'."""
TIMING = frozenset({"after", "before", "until", "since"})
NOT_HEADING = frozenset(
    {
        "no",
        "not",
        "n't",
        "none",
        "without",
        "never",
        "so",
        "okay",
        "ok",
        "then",
        "and",
        "but",
        "now",
        "again",
        "first",
        "next",
        "usually",
        "ordinarily",
        "normally",
        "if",
    }
)
ASKING = FINITE | PRONOUNS | frozenset({
    "do", "does", "did", "can", "could", "shall", "should", "will", "would", "may", "am", "you", "it", "who", "why",
})  # fmt: skip
"""Words of a whole question; one without any of them is a heading said with a raised voice: 'Drains? None.'"""
OPEN_QUESTION = frozenset({"which", "what", "who", "where", "when", "how"})
"""What such a question asks about is taken as so: 'How much was removed?'"""
WEEKDAYS = frozenset({"monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"})
MONTHS = frozenset({
    "january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november",
    "december",
})  # fmt: skip
REPLACING = frozenset({"of", "than"})
"""The last words of 'instead of' and 'rather than'."""
