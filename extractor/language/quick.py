"""Starting quickly: spaCy is imported without its own command line.

`import spacy` loads the whole of spaCy's command line (project templates, downloads, two HTTP clients) only to
offer `spacy.info`; that is a third of the time of a short command. While spaCy is imported, two empty modules stand in
for it and are taken away again, so that a later `import spacy.cli` gets the real one.
"""

from __future__ import annotations

import importlib
import importlib.util
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from types import ModuleType
from typing import Any

CLI, INFO = "spacy.cli", "spacy.cli.info"


def import_spacy() -> None:
    """Import spaCy, without its command line where it can be left out."""
    if "spacy" in sys.modules:
        return
    with _stand_ins():
        importlib.import_module("spacy")


@contextmanager
def _stand_ins() -> Iterator[None]:
    package, module = ModuleType(CLI), ModuleType(INFO)
    package.__path__ = []
    module.info = _info  # type: ignore[attr-defined]
    mine = {CLI: package, INFO: module}
    sys.modules.update(mine)
    try:
        yield
    finally:
        for name, stand_in in mine.items():
            if sys.modules.get(name) is stand_in:
                del sys.modules[name]


def _info(*args: Any, **options: Any) -> Any:
    """What `spacy.info` does, with the command line loaded when it is asked for."""
    return importlib.import_module(INFO).info(*args, **options)
