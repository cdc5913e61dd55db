"""The counter's questions: a label, a tube, two side by side, a stand-in, a mixture, names."""

from __future__ import annotations

from typing import Any

from tests.doors.conftest import Doors, words_of_page
from tests.doors.workshop_files import MEASURED_TUBE
from tubewise.advice.alike.compare import compare
from tubewise.advice.alike.names import names
from tubewise.advice.alike.standin import standin
from tubewise.advice.cards.comparison import comparison
from tubewise.advice.counter.label import read_label
from tubewise.advice.plain import plain
from tubewise.paints.mixing import mix
from tubewise.sheets import compare as compare_sheet

LABEL = "Quinacridone Rose PV19, PR57 lightfast"
BARE = "millrace-weir-acrylic-quinacridone-60ml"
CATALOGUE = ("--catalogue", "catalogue.csv")


def test_a_label_is_read_alike(doors: Doors) -> None:
    answer = plain(read_label(LABEL))
    by_command, by_web = doors.command_json("label", LABEL), doors.web_json("label", text=LABEL)
    assert by_command == by_web == answer
    assert set(answer["pigments"][0]) >= {"code", "form", "constitution", "name"}
    page = words_of_page(doors.page("/label", text=LABEL))
    for warning in answer["warnings"]:
        assert warning["message"] in page
        assert warning["message"] in " ".join(doors.command("label", LABEL).split())


def test_two_tubes_compare_alike_measured_where_they_are(doors: Doors) -> None:
    answer = plain(compare(MEASURED_TUBE, BARE, doors.shelf))
    # The measured tube is somebody's own and not the shop's: the store knows both.
    by_web = doors.web_json("compare", a=MEASURED_TUBE, b=BARE)
    assert doors.command_json("compare", MEASURED_TUBE, BARE) == by_web
    by_command = doors.command_json("compare", MEASURED_TUBE, BARE, "--catalogue", "every-tube.csv")
    assert by_command == by_web == answer
    page = words_of_page(doors.page("/side-by-side", t=[MEASURED_TUBE, BARE]))
    assert answer["verdict"].casefold() in page.casefold()
    data = compare_sheet.data(comparison((MEASURED_TUBE, BARE), doors.shelf))
    assert data["pairs"][0]["verdict"].casefold() == answer["verdict"].casefold()


def test_a_tubes_stand_ins_are_ranked_alike(doors: Doors) -> None:
    wanted = doors.shelf.tubes[BARE]
    box = next(b for b in doors.workshop.completed_boxes if b.seat == "3").tubes
    answer = plain(standin(wanted, box, doors.shelf))
    by_web = doors.web_json("standin", tube=BARE, box="Heath\n3")
    by_command = doors.command_json("standin", BARE, "--from", "seat-three.csv", *CATALOGUE)
    assert by_command == by_web == answer


def test_a_mixture_is_predicted_alike(doors: Doors) -> None:
    paints = [doors.shelf.term(term) for term in (BARE, "PW6")]
    answer = plain(mix(paints, [1.0, 4.0]))
    by_command = doors.command_json("mix", f"{BARE}=1", "PW6=4", *CATALOGUE)
    assert by_command == doors.web_json("mix", part=[f"{BARE}=1", "PW6=4"]) == answer


def test_names_that_mislead_are_the_same_everywhere(doors: Doors) -> None:
    answer = plain(names(doors.workshop.catalogue))
    assert _by_name(doors.command_json("names", *CATALOGUE)) == _by_name(answer)
    assert _by_name(doors.web_json("names")) == _by_name(answer)
    page = words_of_page(doors.page("/names"))
    for name in answer["same_name"]:
        assert name["words"] in page


def test_tubes_of_a_pigment_are_found_alike(doors: Doors) -> None:
    by_command = doors.command_json("find", "--code", "PV19")
    by_web = doors.web_json("tubes", code="PV19")
    found = [t["id"] for t in by_web["tubes"]]
    assert sorted(t["id"] for t in by_command["tubes"]) == sorted(found) and len(found) == 3
    page = doors.page("/tubes", code="PV19")
    assert all(f'href="/tubes/{tube}"' in page for tube in found)


def _by_name(answer: Any) -> dict[str, Any]:
    """The lists of an answer in one order: files and stores list their tubes in their own."""

    def sorted_tubes(entry: Any) -> Any:
        if isinstance(entry, dict) and "tubes" in entry:
            return {**entry, "tubes": sorted(entry["tubes"], key=lambda t: str(t["id"]))}
        return entry

    return {key: sorted(map(sorted_tubes, entries), key=str) for key, entries in answer.items()}
