"""The full prompt: completion as you type, history, suggestions, a quiet status line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from prompt_toolkit import PromptSession
from prompt_toolkit.application import get_app
from prompt_toolkit.auto_suggest import AutoSuggestFromHistory
from prompt_toolkit.filters import Condition
from prompt_toolkit.history import FileHistory, InMemoryHistory
from prompt_toolkit.key_binding import KeyBindings, KeyPressEvent
from prompt_toolkit.shortcuts import CompleteStyle
from prompt_toolkit.styles import Style

from gardenmate.bench.completer import BenchCompleter, NameCompleter
from gardenmate.bench.readers import PROMPT, Wanted, history_path
from gardenmate.bench.status import Choices, fitted, status_of

if TYPE_CHECKING:
    from prompt_toolkit.input import Input
    from prompt_toolkit.output import Output

    from gardenmate.dialogue.conversation import Conversation

MENU_LINES = 6  # lines kept free below the prompt for the names offered; design value
_STYLE = Style.from_dict({"bottom-toolbar": "noreverse", "prompt": "bold"})


class RichPrompt:
    """prompt_toolkit's prompt, with what the bench adds. ``input`` and ``output`` are for tests."""

    interactive = True

    def __init__(
        self, conversation: Conversation, input: Input | None = None, output: Output | None = None
    ) -> None:
        self._conversation = conversation
        self._input = input
        self._output = output
        self._choices: Choices = (("",),)
        path = history_path(conversation)
        self._session: PromptSession[str] = PromptSession(
            history=FileHistory(str(path)) if path is not None else InMemoryHistory(),
            auto_suggest=AutoSuggestFromHistory(),
            # in this thread: it reads the journal, whose connection belongs to it
            completer=BenchCompleter(conversation.facts, conversation.varieties),
            complete_while_typing=_typing,
            complete_style=CompleteStyle.COLUMN,
            reserve_space_for_menu=MENU_LINES,
            bottom_toolbar=self._status,
            key_bindings=_keys(),
            style=_STYLE,
            input=input,
            output=output,
        )

    def read(self, prompt: str = PROMPT, wanted: Wanted = "question") -> str:
        """One line, or a pasted block. Questions have history and status; other lines only their names."""
        if wanted == "question":
            self._choices = status_of(self._conversation)
            return self._session.prompt([("class:prompt", prompt)])
        completer = None if wanted == "text" else NameCompleter(self._conversation.facts, wanted)
        aside: PromptSession[str] = PromptSession(
            completer=completer,
            complete_while_typing=_typing,
            reserve_space_for_menu=0 if completer is None else MENU_LINES,
            key_bindings=_keys(),
            style=_STYLE,
            input=self._input,
            output=self._output,
        )
        return aside.prompt([("class:prompt", prompt)])

    def _status(self) -> str:
        return fitted(self._choices, get_app().output.get_size().columns - 1)


@Condition
def _typing() -> bool:
    """True once something is typed: only then room is kept for the menu, so an answer stays in view."""
    return bool(get_app().current_buffer.text)


def _keys() -> KeyBindings:
    """Ctrl-C clears what is typed; on an empty line it is passed on. The rest are the usual keys."""
    keys = KeyBindings()

    @keys.add("c-c")
    def _(event: KeyPressEvent) -> None:
        if event.current_buffer.text:
            event.current_buffer.reset()
        else:
            event.app.exit(exception=KeyboardInterrupt, style="class:aborting")

    return keys
