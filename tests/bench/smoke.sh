#!/usr/bin/env bash
# Some 40 questions in one go: nothing may crash, every line must come back as JSON. Seconds; run before a change is kept.
set -euo pipefail
cd "$(dirname "$0")/../.."
python="${PYTHON:-.venv/bin/python}"
head -40 tests/language/public_questions.jsonl | "$python" -c '
import json, sys
for line in sys.stdin:
    print(json.loads(line)["q"])' |
  "$python" -m gardenmate ask --json --no-garden --place Duluth --today 2027-04-18 - |
  "$python" -c '
import json, sys
rows = [json.loads(line) for line in sys.stdin]
sys.exit(0 if len(rows) == 40 else f"{len(rows)} of 40 answered")'
