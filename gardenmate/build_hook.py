"""Run by the build backend on every install: parses the fact files once, and puts facts and demo
conversations inside the wheel (an editable install reads them from the checkout)."""

from __future__ import annotations

import compileall
import sys
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface  # type: ignore[import-not-found]


class ParsedFacts(BuildHookInterface):  # type: ignore[misc]
    """Writes gardenmate/_compiled before the files are collected."""

    PLUGIN_NAME = "custom"

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Parse knowledge/ of this checkout (or unpacked sdist); ``version`` is "standard" or "editable"."""
        root = Path(self.root)
        sys.path.insert(0, str(root))
        try:
            # start-up seam: from the sources being built
            from gardenmate.knowledge.compiled import write
            from gardenmate.knowledge.facts import Facts
            from gardenmate.language.text.lexicon import write_compact
            from gardenmate.language.text.needs import write_needs
        finally:
            sys.path.remove(str(root))
        made = root / "gardenmate" / "_compiled"
        write(root / "knowledge", made)
        write_compact(Facts(root / "knowledge"), made)
        write_needs(made)
        if version == "editable":
            # What pip does for the files of an ordinary install: a start need not compile them again.
            compileall.compile_dir(str(root / "gardenmate"), quiet=2)
        if self.target_name == "wheel" and version == "standard":
            for name in ("knowledge", "transcripts_demo"):
                build_data["force_include"][str(root / name)] = f"gardenmate/_data/{name}"
