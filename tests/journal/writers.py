"""Processes that write to a journal, for the tests of crashes and of two benches at once."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

REPO = Path(__file__).resolve().parents[2]
_CODE = """
import sys
sys.path.insert(0, sys.argv[1])
from datetime import date
from pathlib import Path
from gardenmate.core.effects import LogDecision
from gardenmate.journal.store import Journal
journal = Journal(Path(sys.argv[2]), wait_s=60)
name, most = sys.argv[3], int(sys.argv[4])
for number in range(most):
    text = f"{name} sowed tray {number}"
    effect = LogDecision("sow", text, date(2027, 4, 18), ("leek",), number)
    journal.apply(effect, place="Larch Hollow", answer=None, knowledge_version="test")
    print(text, flush=True)
"""


def start_writer(path: Path, most: int, name: str | None = None) -> subprocess.Popen[str]:
    """Start a process that records ``most`` entries and prints each one's text once it is acknowledged."""
    import secrets

    words = [sys.executable, "-B", "-c", _CODE, str(REPO), str(path), name or secrets.token_hex(4), str(most)]
    return subprocess.Popen(words, stdout=subprocess.PIPE, text=True)
