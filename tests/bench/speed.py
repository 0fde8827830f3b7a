"""Start, turns, keys, calendar, a long list of questions, memory and growth, set against limits.

    python tests/bench/speed.py [--quick] [--write]

Run it in an environment where the program is installed (`pip install .` or `-e .`), on an idle machine.
``--write`` puts the table into tests/bench/RESULTS.md, ``--quick`` takes fewer samples. Times are
processor time, which on an idle machine is the time on the clock. The start is a whole process set against
another that only imports three common libraries, so that the ratio means the same on any machine.
"""

from __future__ import annotations

import argparse
import gc
import json
import os
import platform
import re
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from statistics import median

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from gardenmate.core.answer import Answer
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.dialogue.so_far import TurnsSoFar
from gardenmate.knowledge.facts import Facts
from gardenmate.topics.season.calendar import calendar_windows
from gardenmate.topics.season.site_year import _year_of

TODAY = date(2027, 4, 18)
PLACE = "Duluth"
ARGUMENTS = ("--no-garden", "--place", PLACE, "--today", TODAY.isoformat())
QUESTION = "is it too late to start peppers?"
BARE_IMPORT = "import rich.console, rapidfuzz, dateutil.parser"
QUESTIONS = ROOT / "tests" / "language" / "public_questions.jsonl"
RESULTS = Path(__file__).resolve().with_name("RESULTS.md")
OTHERS = "\n# Measured frost dates"
START_RATIO, TURN_P99_MS, KEY_P99_MS, CALENDAR_MS = 1.4, 10.0, 16.0, 300.0
LIST_PER_S, MEMORY_MB, GROWTH_RATIO = 300.0, 80.0, 3.0
TYPED = (
    "is it too late to start pep",
    "can i sow carrots in dul",
    "frost tonight cover tomatoes",
    "zzz qqq 12 in ",
)


@dataclass(frozen=True)
class Row:
    """One line of the table: what, how much, and the limit it is held to (``most`` or ``least``)."""

    what: str
    value: float
    unit: str
    most: float | None = None
    least: float | None = None

    @property
    def holds(self) -> bool:
        """Whether the limit is kept."""
        return (self.most is None or self.value <= self.most) and (
            self.least is None or self.value >= self.least
        )

    def cells(self) -> str:
        """The row in Markdown."""
        limit = f"at most {self.most:g}" if self.most is not None else ""
        limit = f"at least {self.least:g}" if self.least is not None else limit
        mark = "" if not limit else "kept" if self.holds else "NOT KEPT"
        digits = 2 if self.unit == "x" else 1
        return f"| {self.what} | {self.value:.{digits}f} {self.unit} | {limit} | {mark} |"


def at(share: float, taken: Sequence[float]) -> float:
    """The value below which this share of the samples lies."""
    ordered = sorted(taken)
    return ordered[min(len(ordered) - 1, int(share * len(ordered)))]


def timed(work: Callable[[], object]) -> float:
    """Milliseconds of processor time one call takes."""
    start = cpu_s()
    work()
    return (cpu_s() - start) * 1000


def cpu_s() -> float:
    """Processor seconds of this process and of those it waited for."""
    children = resource.getrusage(resource.RUSAGE_CHILDREN)
    return time.process_time() + children.ru_utime + children.ru_stime


def conversation(root: Path | None = None) -> Conversation:
    """A fresh conversation without a garden file."""
    return Conversation(Facts(root), lambda: TODAY, options=PlaceOptions(place=PLACE))


def program(*words: str) -> list[str]:
    """The installed command, or the package run as a module."""
    installed = Path(sys.executable).with_name("gardenmate")
    return [str(installed), *words] if installed.exists() else [sys.executable, "-m", "gardenmate", *words]


def start(samples: int) -> list[Row]:
    """A whole process that answers one question against one that imports three libraries, taken in turns."""
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    commands = {
        "ask": program("ask", *ARGUMENTS, QUESTION),
        "import": [sys.executable, "-c", BARE_IMPORT],
        "python": [sys.executable, "-c", "pass"],
    }
    taken: dict[str, list[float]] = defaultdict(list)
    with tempfile.TemporaryDirectory() as empty:
        for number in range(samples + 2):
            for name, command in commands.items():
                run = timed(
                    lambda command=command: subprocess.run(
                        command, cwd=empty, env=environment, stdout=subprocess.DEVNULL, check=True
                    )
                )
                if number >= 2:  # the first two write the compiled files and warm the disk cache
                    taken[name].append(run)
    middle = {name: median(values) for name, values in taken.items()}
    return [
        Row("start: one question, whole process", middle["ask"], "ms"),
        Row(f"start: `{BARE_IMPORT}`", middle["import"], "ms"),
        Row("start: a bare Python", middle["python"], "ms"),
        Row("start: question against imports", middle["ask"] / middle["import"], "x", most=START_RATIO),
    ]


def labelled() -> list[tuple[str, list[str], str]]:
    """(topic, the turns before, question) of every public question."""
    with QUESTIONS.open(encoding="utf-8") as lines:
        rows = [json.loads(line) for line in lines]
    return [(row["topic"], row.get("prev", []), row["q"]) for row in rows]


def turns(rounds: int) -> list[Row]:
    """Warm turns, from text to answer, by topic: every public question, after a round that is not counted."""
    talk = conversation()
    by_topic: dict[str, list[float]] = defaultdict(list)
    for number in range(rounds + 1):
        for topic, before, text in labelled():
            talk.so_far = TurnsSoFar()
            for line in before:
                talk.ask(line)
            taken = timed(lambda text=text: talk.ask(text))
            if number:
                by_topic[topic].append(taken)
    every = [t for values in by_topic.values() for t in values]
    rows = [
        Row("turn: all topics, p50", at(0.5, every), "ms"),
        Row("turn: all topics, p99", at(0.99, every), "ms", most=TURN_P99_MS),
    ]
    for topic, values in sorted(by_topic.items()):
        rows.append(Row(f"turn: {topic}, p50 of {len(values)}", at(0.5, values), "ms"))
        rows.append(Row(f"turn: {topic}, p99", at(0.99, values), "ms", most=TURN_P99_MS))
    return rows


def keys(rounds: int) -> list[Row]:
    """Completion after every key of some lines; the names are read before."""
    from prompt_toolkit.completion import CompleteEvent
    from prompt_toolkit.document import Document

    from gardenmate.bench.completer import BenchCompleter

    completer, event = BenchCompleter(Facts()), CompleteEvent(text_inserted=True)
    taken: list[float] = []
    first = timed(lambda: list(completer.get_completions(Document("is it in dul"), event)))
    for _ in range(rounds):
        for line in TYPED:
            for end in range(1, len(line) + 1):
                document = Document(line[:end])
                taken.append(timed(lambda d=document: list(completer.get_completions(d, event))))
    return [
        Row("key: the first one, which reads the names", first, "ms"),
        Row("key: completion, p50", at(0.5, taken), "ms"),
        Row("key: completion, p99", at(0.99, taken), "ms", most=KEY_P99_MS),
    ]


def calendar(rounds: int) -> list[Row]:
    """The year's windows of every crop at one place, facts read and the place's year worked out anew each time."""
    cold, warm = [], []
    for _ in range(rounds):
        _year_of.cache_clear()  # what was worked out for the place goes too
        talk = conversation()
        facts = talk.facts
        place = talk.place()
        assert place is not None
        assert place.site is not None
        site = place.site
        cold.append(timed(lambda f=facts, s=site: calendar_windows(s, f, TODAY, tuple(f.crops()))))
        warm.append(timed(lambda f=facts, s=site: calendar_windows(s, f, TODAY, tuple(f.crops()))))
    count = len(conversation().facts.crop_ids)
    return [
        Row(f"calendar: {count} crops, all anew", median(cold), "ms", most=CALENDAR_MS),
        Row("calendar: again", median(warm), "ms", most=CALENDAR_MS),
    ]


def long_list(count: int) -> list[Row]:
    """Many questions on standard input, as JSON: one process, everything included."""
    texts = [text for _, _, text in labelled()]
    lines = "\n".join(texts[n % len(texts)] for n in range(count)) + "\n"
    command = program("ask", *ARGUMENTS, "--json", "-")
    begin = cpu_s()
    done = subprocess.run(command, input=lines, capture_output=True, text=True, encoding="utf-8", check=True)
    seconds = cpu_s() - begin
    answers = done.stdout.splitlines()
    assert len(answers) == count
    assert all(json.loads(line)["question"] for line in answers[:: max(1, count // 100)])
    return [Row(f"list: {count} questions on standard input", count / seconds, "/s", least=LIST_PER_S)]


def memory() -> list[Row]:
    """Highest resident memory of the real bench on a pseudo-terminal after questions of every topic."""
    from ptyprocess import PtyProcessUnicode

    seen: dict[str, str] = {}
    for topic, before, text in labelled():
        if not before and topic not in ("garden", "log"):
            seen.setdefault(topic, text)
    environment = {**os.environ, "TERM": "xterm-256color", "PYTHONUTF8": "1"}
    child = PtyProcessUnicode.spawn(program(*ARGUMENTS), env=environment, dimensions=(40, 100))
    try:
        for text in ("", *seen.values()):
            child.write(text + "\r" if text else "")
            _drain(child, 1.5)
        status = Path(f"/proc/{child.pid}/status").read_text("ascii")
    finally:
        child.terminate(force=True)
    found = re.search(r"VmHWM:\s+(\d+) kB", status)
    assert found is not None
    return [Row("memory: the bench after every topic, peak", int(found[1]) / 1024, "MB", most=MEMORY_MB)]


def _drain(child: object, quiet_s: float) -> None:
    import select

    while select.select([child.fd], [], [], quiet_s)[0]:  # type: ignore[attr-defined]
        child.read(65536)  # type: ignore[attr-defined]
        quiet_s = min(quiet_s, 0.4)


def growth(rounds: int) -> list[Row]:
    """Warm turns with ten times the crops: each crop file copied nine times under invented names."""
    texts = [text for topic, before, text in labelled() if topic == "late-start" and not before][:40]
    with tempfile.TemporaryDirectory() as folder:
        many = Path(folder) / "knowledge"
        shutil.copytree(ROOT / "knowledge", many)
        for path in list((many / "crops").glob("*.toml")):
            content = path.read_text("utf-8")
            for number in range(9):
                word = f"{path.stem.replace('-', '')}ling{'abcdefghi'[number]}"
                content_new = re.sub(r"(?m)^(generic_names|misspelled)\s*=\s*\[[^\]]*\]\n", "", content)
                content_new = re.sub(r"(?m)^names\s*=\s*\[[^\]]*\]", f'names = ["{word}"]', content_new)
                content_new = re.sub(r'(?m)^base\s*=\s*".*"', f'base = "{word}"', content_new)
                content_new = re.sub(r"(?m)^(kind|default)\s*=.*\n", "", content_new)
                (many / "crops" / f"{word}.toml").write_text(content_new, "utf-8")
        median_of: dict[str, float] = {}
        for name, root in (("as is", ROOT / "knowledge"), ("ten times", many)):
            talk = conversation(root)
            for text in texts:
                talk.ask(text)
            taken = [timed(lambda text=text, talk=talk: alone(talk, text)) for text in texts * rounds]
            median_of[name] = median(taken)
        known = len(conversation(many).facts.crop_ids)
    return [
        Row("growth: turn with the crops as they are", median_of["as is"], "ms"),
        Row(f"growth: turn with {known} crops", median_of["ten times"], "ms"),
        Row("growth: ratio", median_of["ten times"] / median_of["as is"], "x", most=GROWTH_RATIO),
    ]


def alone(talk: Conversation, text: str) -> Answer:
    """One turn that sees none before it."""
    talk.so_far = TurnsSoFar()
    return talk.ask(text)


def machine() -> str:
    """What the figures were taken on."""
    cpu = platform.processor() or platform.machine()
    info = Path("/proc/cpuinfo")
    if info.exists():
        found = re.search(r"model name\s*:\s*(.+)", info.read_text("utf-8", errors="replace"))
        cpu = found[1].strip() if found else cpu
    load = os.getloadavg()[0] if hasattr(os, "getloadavg") else 0.0
    return (
        f"{os.cpu_count()} cores ({cpu}), {platform.system()} {platform.release().split('-')[0]}, "
        f"Python {platform.python_version()}, load {load:.1f} when it began"
    )


def main() -> int:
    """Measure, print, and with --write keep the table. Exit code 1 when a limit is not kept."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else None)
    parser.add_argument("--quick", action="store_true")
    parser.add_argument("--write", action="store_true")
    options = parser.parse_args()
    few = options.quick
    head = machine()
    print(head)
    rows: list[Row] = []
    for measured in (
        lambda: start(5 if few else 40),
        lambda: turns(1 if few else 3),
        lambda: keys(2 if few else 10),
        lambda: calendar(2 if few else 7),
        lambda: long_list(1000 if few else 10_000),
        memory,
        lambda: growth(1 if few else 5),
    ):
        gc.collect()
        for row in measured():
            print(row.cells(), flush=True)
            rows.append(row)
    if options.write:
        kept = RESULTS.read_text("utf-8").partition(OTHERS)  # what other measurements wrote below
        RESULTS.write_text(table(head, rows) + "".join(kept[1:]), "utf-8")
    return 0 if all(row.holds for row in rows) else 1


def table(head: str, rows: Sequence[Row]) -> str:
    """The results as a Markdown page."""
    lines = [
        "# Measured speed and memory",
        "",
        f"Taken with `python tests/bench/speed.py --write` on {date.today():%Y-%m-%d}: {head}.",
        "Processor time, which on an idle machine is the time on the clock; the ratios travel.",
        "Journal sizes: `tests/bench/journal_size.py`.",
        "",
        "| what | measured | limit | |",
        "|---|---|---|---|",
        *(row.cells() for row in rows),
    ]
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    sys.exit(main())
