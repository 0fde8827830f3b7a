from __future__ import annotations

import multiprocessing
import os
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenmate.core.effects import GardenChange
from gardenmate.core.errors import DamagedFileError
from gardenmate.core.lock import locked
from gardenmate.garden import store
from gardenmate.garden.profile import NO_GARDEN, Frame, Plant
from gardenmate.garden.store import (
    GardenFile,
    GardenFileError,
    apply_changes,
    default_home,
    garden_path,
    journal_path,
    load_garden,
)

WHOLE = """\
# our plot
[place]
name = "Duluth, MN"
elevation_m = 340
low_spot_c = 1.5

[frost]
last = "05-20"     # from the diary
first = "09-25"
risk = 0.2

[gear]
mat = 1
lamp = 2
tunnel = false
fleece = true

[frame]
width_m = 0.9
length_m = 1.8
glazing = "twin-wall"
insulated = true

[plants.elderberry]
planted = 2022

[plants.apple]
planted = 2019
count = 2
kind = "eating"

[household]
people = 3

[crops]
wanted = ["leek", "pepper"]

[preferences]
units = "metric"
tariff = 0.15
beds = "three"
"""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A garden file whose folder does not exist yet."""
    return tmp_path / "home" / "garden.toml"


def written(path: Path, text: str) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, "utf-8")
    return path


class TestReading:
    def test_every_key(self, path: Path) -> None:
        garden = load_garden(written(path, WHOLE))
        assert (garden.place, garden.elevation_m, garden.low_spot_c) == ("Duluth, MN", 340.0, 1.5)
        assert (garden.last_frost, garden.first_frost, garden.frost_risk) == ((5, 20), (9, 25), 0.2)
        assert garden.gear == {"mat": 1.0, "lamp": 2.0, "tunnel": 0.0, "fleece": 1.0}
        assert garden.has("mat")
        assert not garden.has("tunnel")
        assert garden.frame == Frame(width_m=0.9, length_m=1.8, glazing="twin-wall", insulated=True)
        assert garden.plants == (Plant("elderberry", None, 2022), Plant("apple", "eating", 2019, 2))
        assert (garden.people, garden.wanted, garden.units) == (3, ("leek", "pepper"), "metric")
        assert garden.prefs == {"tariff": "0.15", "beds": "three"}

    def test_no_file_and_an_empty_file_are_a_garden_nothing_is_known_of(self, path: Path) -> None:
        assert load_garden(path) == NO_GARDEN
        assert load_garden(written(path, "")) == NO_GARDEN

    def test_a_mark_of_byte_order_is_passed_over(self, path: Path) -> None:
        written(path, "\ufeff[household]\npeople = 2\n")
        assert load_garden(path).people == 2

    @pytest.mark.parametrize(
        ("text", "told"),
        [
            ('[place]\nname = "Dul', "damaged"),
            ("[frost]\nlast = 05-20\n", "damaged|month and day"),
            ('[frost]\n\nlast = "13-20"\n', "line 3: 'last' should be a month and day"),
            ('[frost]\nlast = "02-30"\n', "line 2"),
            ("[frost]\nrisk = 3\n", "line 2: 'risk' should be from"),
            ('[place]\nlat = "north"\n', "line 2: 'lat' should be a number"),
            ("[place]\nlat = 91\n", "from -90 to 90"),
            ("[place]\nlat = nan\n", "should be a number"),
            ("[household]\npeople = 2.5\n", "whole number"),
            ("[household]\npeople = 0\n", "whole number from 1"),
            ("[household]\npoeple = 2\n", "line 2: 'household.poeple' is not one of people"),
            ("[frots]\n", "line 1: 'frots' is not one of place, frost"),
            ("place = 3\n", r"line 1: 'place' should be a section \[place\]"),
            ("[plants]\napple = 2020\n", "should be a section such as"),
            ("[plants.apple]\nage = 3\n", "is not one of planted"),
            ("[crops]\nwanted = 'leek'\n", "list of names"),
            ('[preferences]\nunits = "kelvin"\n', 'should be "us" or "metric"'),
            ("[preferences]\nx = [1]\n", "text or a number"),
            ("[gear]\nmat = -1\n", "from 0 up"),
            ('[gear]\nmat = "yes"\n', "should be a number"),
            ("[frame]\ninsulated = 1\n", "true or false"),
        ],
    )
    def test_a_fault_is_named_with_file_line_and_key(self, path: Path, text: str, told: str) -> None:
        with pytest.raises(DamagedFileError, match=told) as caught:
            load_garden(written(path, text))
        assert str(path) in str(caught.value)
        assert caught.value.exit_code == 5

    def test_bytes_that_are_no_text(self, path: Path) -> None:
        path.parent.mkdir()
        path.write_bytes(b'[place]\nname = "\xff"\n')
        with pytest.raises(DamagedFileError, match="line 2 is not UTF-8"):
            load_garden(path)

    def test_a_folder_in_its_place(self, path: Path) -> None:
        path.mkdir(parents=True)
        with pytest.raises(GardenFileError, match="Cannot read"):
            load_garden(path)


class TestGardenFile:
    def test_follows_the_file(self, path: Path) -> None:
        file = GardenFile(path)
        assert file.garden is NO_GARDEN
        written(path, "[household]\npeople = 2\n")
        assert file.garden.people == 2
        assert file.garden is file.garden  # read once while it stays the same
        file.apply(GardenChange("household.people", 5))
        assert file.garden.people == 5
        path.unlink()
        assert file.garden is NO_GARDEN


class TestChanging:
    def test_makes_folder_file_and_section(self, path: Path) -> None:
        apply_changes(path, [GardenChange("frost.last", "05-12")])
        assert load_garden(path).last_frost == (5, 12)
        assert path.read_text().startswith("# ")

    def test_comments_and_order_are_kept(self, path: Path) -> None:
        written(path, WHOLE)
        apply_changes(path, [GardenChange("frost.last", "05-12")])
        apply_changes(path, [GardenChange("gear.greenhouse", 1)])
        text = path.read_text()
        assert text == WHOLE.replace('"05-20"', '"05-12"').replace(
            "fleece = true\n", "fleece = true\ngreenhouse = 1\n"
        )

    def test_removes_a_key_and_a_section_left_empty(self, path: Path) -> None:
        written(path, WHOLE)
        for key in ("household.people", "plants.elderberry", "frost", "gear.nothing", "nothing.at.all"):
            apply_changes(path, [GardenChange(key, None)])
        text = path.read_text()
        assert "[household]" not in text
        assert "[frost]" not in text
        assert [p.id for p in load_garden(path).plants] == ["apple"]
        apply_changes(path, [GardenChange("plants.apple", None)])
        assert "plants" not in path.read_text()

    def test_what_changes_nothing_writes_nothing(self, path: Path) -> None:
        written(path, WHOLE)
        before = path.stat()
        apply_changes(path, [GardenChange("household.people", 3)])
        apply_changes(path, [GardenChange("gear.nothing", None)])
        assert path.stat().st_ino == before.st_ino
        apply_changes(path.with_name("other.toml"), [GardenChange("gear.mat", None)])
        assert not path.with_name("other.toml").exists()

    def test_a_change_that_does_not_fit_is_refused(self, path: Path) -> None:
        written(path, WHOLE)
        for change in (
            GardenChange("frost.last", "13-40"),
            GardenChange("mood", "fine"),
            GardenChange("place.lat", 200),
        ):
            with pytest.raises(ValueError, match="does not fit"):
                apply_changes(path, [change])
        assert path.read_text() == WHOLE

    def test_a_damaged_file_is_told_and_left_alone(self, path: Path) -> None:
        for text in ('[place]\nname = "Dul', "[place]\nlat = 400\n"):
            written(path, text)
            with pytest.raises(DamagedFileError):
                apply_changes(path, [GardenChange("gear.mat", 1)])
            assert path.read_text() == text

    def test_a_link_stays_a_link_and_rights_stay(self, path: Path, tmp_path: Path) -> None:
        real = written(tmp_path / "dotfiles" / "g.toml", "")
        real.chmod(0o600)
        path.parent.mkdir()
        path.symlink_to(real)
        apply_changes(path, [GardenChange("gear.mat", 1)])
        assert path.is_symlink()
        assert load_garden(real).has("mat")
        assert real.stat().st_mode & 0o777 == 0o600

    @settings(max_examples=60, deadline=None)
    @given(value=st.text(st.characters(exclude_categories=["Cs"]), max_size=60))
    def test_any_text_is_kept_as_text(self, tmp_path_factory: pytest.TempPathFactory, value: str) -> None:
        path = tmp_path_factory.mktemp("g") / "garden.toml"
        apply_changes(path, [GardenChange("preferences.note", value)])
        apply_changes(path, [GardenChange("place.name", value)])
        assert load_garden(path).prefs == {"note": value}
        assert load_garden(path).place == value

    def test_half_characters_become_question_marks(self, path: Path) -> None:
        apply_changes(path, [GardenChange("place.name", "Dul\ud800uth")])
        apply_changes(path, [GardenChange("crops.wanted", ["le\udcffek"])])
        assert load_garden(path).place == "Dul?uth"
        assert load_garden(path).wanted == ("le?ek",)

    @pytest.mark.parametrize("value", [3, 2.5, True, "text", ["leek", "kale"], date(2027, 4, 18)])
    def test_values_of_every_kind(self, path: Path, value: object) -> None:
        key = "crops.wanted" if isinstance(value, list) else "preferences.x"
        apply_changes(path, [GardenChange(key, value)])  # type: ignore[arg-type]
        garden = load_garden(path)
        if isinstance(value, list):
            assert garden.wanted == tuple(value)
        else:
            assert garden.prefs["x"] in (str(value), str(value).lower())

    def test_a_power_cut_while_writing_leaves_the_old_file(
        self, path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        written(path, WHOLE)

        def cut(*_: object) -> None:
            raise OSError(28, "No space left on device")

        for step in ("fsync", "replace"):
            with monkeypatch.context() as broken:
                broken.setattr(store.os, step, cut)
                with pytest.raises(GardenFileError, match=r"No space left on device\. Nothing was"):
                    apply_changes(path, [GardenChange("gear.mat", 5)])
            assert path.read_text() == WHOLE
            assert sorted(p.name for p in path.parent.iterdir()) == ["garden.toml", "garden.toml.lock"]


class TestLock:
    def test_waits_and_then_says_so(self, path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        written(path, "")
        with locked(path):
            with pytest.raises(TimeoutError, match="in use by another program"), locked(path, wait_s=0.05):
                pass
            monkeypatch.setattr("gardenmate.core.lock.locked.__wrapped__.__defaults__", (0.05,))
            with pytest.raises(GardenFileError, match="in use by another program"):
                apply_changes(path, [GardenChange("gear.mat", 1)])
        with locked(path, wait_s=0.05):
            pass

    def test_two_processes_lose_no_change(self, path: Path) -> None:
        context = multiprocessing.get_context("spawn")
        workers = [context.Process(target=change_many, args=(path, name)) for name in ("ann", "bo")]
        for worker in workers:
            worker.start()
        for worker in workers:
            worker.join(60)
            assert worker.exitcode == 0
        prefs = load_garden(path).prefs
        assert len(prefs) == 30


def change_many(path: Path, name: str) -> None:
    """Set fifteen preferences, one by one."""
    for number in range(15):
        apply_changes(path, [GardenChange(f"preferences.{name}{number}", number)])


class TestHome:
    def test_the_variable_wins(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setenv("GARDENMATE_HOME", str(tmp_path / "stick"))
        assert default_home() == tmp_path / "stick"
        assert garden_path(default_home()) == tmp_path / "stick" / "garden.toml"
        assert journal_path(default_home()) == tmp_path / "stick" / "journal.db"

    def test_a_tilde_is_the_users_home(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setenv("HOME", str(tmp_path))
        monkeypatch.setenv("GARDENMATE_HOME", "~/plot")
        assert default_home() == Path(os.path.expanduser("~")) / "plot"

    def test_else_where_the_system_keeps_user_data(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.delenv("GARDENMATE_HOME", raising=False)
        monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))  # freedesktop.org Base Directory Specification
        assert default_home() == tmp_path / "gardenmate"

    def test_a_user_without_a_home_is_told(self, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.delenv("GARDENMATE_HOME", raising=False)
        monkeypatch.delenv("XDG_DATA_HOME", raising=False)
        monkeypatch.setattr(os.path, "expanduser", lambda path: path)
        with pytest.raises(GardenFileError, match="set GARDENMATE_HOME"):
            default_home()
