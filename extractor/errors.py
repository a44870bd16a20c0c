"""Errors a user may see. Each message is one sentence: what is wrong, where, what to do."""

from __future__ import annotations


class ExtractorError(Exception):
    """Base of every error that ends in one clear sentence instead of a traceback."""


class InputError(ExtractorError):
    """The file or text given cannot be read as a note."""


class ModelError(ExtractorError):
    """The recogniser's weights are missing or are not the ones that were pinned."""


class GrammarError(ExtractorError):
    """A grammar pack holds a mistake. The message opens with `file:line:`."""
