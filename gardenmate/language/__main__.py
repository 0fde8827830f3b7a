"""`python -m gardenmate.language` makes the parsed copies anew, of the facts and of the words, after an edit.

Without it an edited file is read as TOML, which takes about a tenth of a second longer at every start.
"""

from __future__ import annotations

from gardenmate.knowledge.compiled import folder, write
from gardenmate.knowledge.facts import Facts
from gardenmate.language.text.lexicon import write_compact

if __name__ == "__main__":
    write(Facts().root, folder())
    print(f"wrote {write_compact(Facts(), folder())}")
