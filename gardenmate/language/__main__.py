"""`python -m gardenmate.language` makes the parsed copies anew, of the facts and of the words, after an edit.

Without it an edited file is read as TOML, which takes about a tenth of a second longer at every start.
"""

from __future__ import annotations

from gardenmate.core.compiled import folder
from gardenmate.knowledge.compiled import write
from gardenmate.knowledge.facts import Facts
from gardenmate.language.text.lexicon import write_compact
from gardenmate.language.text.needs import write_needs

if __name__ == "__main__":
    write(Facts().root, folder())
    write_needs(folder())
    print(f"wrote {write_compact(Facts(), folder())}")
