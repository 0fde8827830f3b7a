"""The full prompt: completion as you type, history, suggestions, a quiet status line."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

from prompt_toolkit import PromptSession
from prompt_toolkit.auto_suggest import AutoSuggestFromHistory
from prompt_toolkit.history import FileHistory, History, InMemoryHistory
from prompt_toolkit.shortcuts import CompleteStyle

from gardenmate.bench.completer import BenchCompleter
from gardenmate.bench.readers import PROMPT
from gardenmate.bench.status import status_line

if TYPE_CHECKING:
    from prompt_toolkit.input import Input
    from prompt_toolkit.output import Output

    from gardenmate.conversation import Conversation


class RichPrompt:
    """prompt_toolkit's prompt, with what the bench adds. ``input`` and ``output`` are for tests."""

    interactive = True

    def __init__(
        self, conversation: Conversation, input: Input | None = None, output: Output | None = None
    ) -> None:
        if os.environ.get("SSH_CONNECTION"):
            # Cursor-position replies leak into the line over slow connections.
            os.environ.setdefault("PROMPT_TOOLKIT_NO_CPR", "1")
        self._conversation = conversation
        self._session: PromptSession[str] = PromptSession(
            history=_history(conversation),
            auto_suggest=AutoSuggestFromHistory(),
            completer=BenchCompleter(conversation.facts),
            complete_while_typing=True,
            complete_style=CompleteStyle.COLUMN,
            reserve_space_for_menu=5,
            enable_history_search=False,
            bottom_toolbar=lambda: status_line(conversation),
            input=input,
            output=output,
        )

    def read(self, prompt: str = PROMPT) -> str:
        """One line, or a pasted block. Other prompts than the bench's own complete nothing."""
        return self._session.prompt(prompt)


def _history(conversation: Conversation) -> History:
    """The history kept beside the garden file; in memory when it may not or cannot be written."""
    if conversation.garden_file is None:
        return InMemoryHistory()
    path = Path(conversation.garden_file.path).parent / "history"
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("ab"):
            pass
    except OSError:
        return InMemoryHistory()
    return FileHistory(str(path))
