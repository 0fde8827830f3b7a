"""`python -m gardenmate.language` writes compact.json anew after an edit of knowledge/language/*.toml."""

from __future__ import annotations

from gardenmate.knowledge.facts import Facts
from gardenmate.language.text.lexicon import write_compact

if __name__ == "__main__":
    print(f"wrote {write_compact(Facts())}")
