"""What protects a server: hosts, tokens, the access code, sizes, headers; faults told plainly."""

from __future__ import annotations

import io
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from tests.web.conftest import BASE, Visitor, visitor_of
from tubewise.errors import UserError
from tubewise.limits import MAX_BODY, MOST_PHOTOGRAPHS_SENT
from tubewise.store.store import Store
from tubewise.web.access import TOKEN_HERE, Access, new_code
from tubewise.web.app import application
from tubewise.web.uploads import SHEETS, plain_file_name

CODE = "abcd-efgh-jkmn"


@pytest.fixture
def network(tmp_path: Path) -> Iterator[Visitor]:
    """A visitor of a server on a network, whose changes need a code."""
    with Store(tmp_path / "net.sqlite3") as store:
        store.import_boxes([])
        yield visitor_of(store, code=CODE, hosts=frozenset())


@pytest.mark.slow
def test_every_page_is_held_to_our_own_style_and_scripts(reader: Visitor) -> None:
    answer = reader.client.get("/tubes")
    policy = answer.headers["content-security-policy"]
    assert "default-src 'none'" in policy and "unsafe" not in policy and "http" not in policy
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert " style=" not in answer.text and "<style" not in answer.text
    assert "onclick" not in answer.text and "<script>" not in answer.text


@pytest.mark.slow
def test_a_form_without_its_token_changes_nothing(owner: Visitor) -> None:
    for token in ("", "wrong", owner.token()[:-1] + "!"):
        answer = owner.send("/class/boxes", 403, token=token, seat="9", tubes="x", boxes="Moor")
        assert "out of date" in answer.text
    assert "Seat 9" not in owner.get("/class/boxes?boxes=Moor")


def test_another_visitors_token_does_not_do(owner: Visitor) -> None:
    stolen = owner.token()
    owner.client.cookies.clear()
    owner.send("/class/boxes", 403, token=stolen, seat="9", boxes="Moor")


def test_nobody_sees_the_place_of_a_token(owner: Visitor) -> None:
    owner.token()
    owner.client.cookies.clear()
    page = owner.client.get("/class/list", headers={"accept": "*/*"})
    assert page.status_code == 200 and 'name="token"' in page.text
    assert TOKEN_HERE not in page.text


def test_a_tube_named_like_that_place_draws_no_token_into_a_download(owner: Visitor) -> None:
    token = owner.token()
    owner.send("/class/boxes", seat="9", tubes=f"{TOKEN_HERE}: PB29", boxes="Moor")
    written = owner.client.get("/class/boxes.csv?boxes=Moor").text
    assert TOKEN_HERE in written and token not in written


def test_each_process_has_a_place_of_its_own() -> None:
    found = subprocess.run(
        [sys.executable, "-c", "from tubewise.web.access import TOKEN_HERE; print(TOKEN_HERE)"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert len(found.stdout.strip()) == len(TOKEN_HERE) == len(Access().token("somebody"))
    assert found.stdout.strip() != TOKEN_HERE


def test_a_change_from_another_site_is_refused(owner: Visitor) -> None:
    answer = owner.client.post("/demo", headers={"origin": "http://elsewhere.example"})
    assert answer.status_code == 403


def test_only_its_own_names_are_answered_to(reader: Visitor) -> None:
    answer = reader.client.get("/tubes", headers={"host": "elsewhere.example"})
    assert answer.status_code == 400 and "127.0.0.1" in answer.text
    assert reader.client.get("/label", headers={"host": "localhost:8000"}).status_code == 200


@pytest.mark.parametrize(
    ("host", "status"),
    [
        ("127.0.0.1", 200),
        ("127.0.0.1:8000", 200),
        ("LOCALHOST:8000", 200),
        ("[::1]", 200),
        ("[::1]:8000", 200),
        ("[::2]:8000", 400),
        ("localhost.elsewhere.example", 400),
        ("localhost@elsewhere.example", 400),
        ("", 400),
    ],
)
def test_names_with_ports_and_of_both_internets(reader: Visitor, host: str, status: int) -> None:
    answer = reader.client.get("/label", headers={"host": host})
    assert answer.status_code == status
    # Whoever is turned away reads what to do, under the same safe headers.
    assert "content-security-policy" in answer.headers


def test_behind_a_proxy_the_name_it_passes_on_counts(reader: Visitor) -> None:
    forwarded = {"x-forwarded-host": "127.0.0.1", "host": "paint.example"}
    assert reader.client.get("/label", headers=forwarded).status_code == 400


def test_on_a_network_all_may_read_and_only_the_code_changes(network: Visitor) -> None:
    page = network.get("/class/boxes")
    assert "Give the access code" in page and "Type a box in" not in page
    wrong = network.client.post("/enter", data={"code": "nope"})
    assert wrong.status_code == 403 and "not the code" in wrong.text
    right = network.client.post("/enter", data={"code": CODE.upper()}, follow_redirects=False)
    assert right.status_code == 303 and "HttpOnly" in right.headers["set-cookie"]
    assert "Type a box in" in network.get("/class/boxes")
    network.send("/class/boxes", boxes="", seat="1", tubes="Rose, PV19")
    network.client.post("/leave")
    assert "Type a box in" not in network.get("/class/boxes")


def test_without_the_code_even_a_good_token_changes_nothing(network: Visitor) -> None:
    network.get("/class/boxes")
    app_access: Access = network.client.app._access  # type: ignore[attr-defined]
    token = app_access.token(network.client.cookies["tubewise-visitor"])
    answer = network.send("/class/boxes", 403, token=token, seat="1", tubes="x")
    assert "access code" in answer.text


def test_guessing_the_code_is_stopped() -> None:
    access = Access(CODE)
    for _ in range(10):
        assert access.enter("guess") is None
    assert access.enter(CODE) is None, "even the right one has to wait now"


def test_codes_are_made_up_fresh() -> None:
    assert new_code() != new_code()
    assert Access(new_code()).enter("") is None
    assert Access("").enter("") is None


def test_too_large_a_body_is_refused(owner: Visitor) -> None:
    large = owner.client.post("/tubes.import", content=b"x" * (MAX_BODY + 1))
    assert large.status_code == 413 and "8 MB" in large.text

    def pieces() -> Iterator[bytes]:
        for _ in range(9):
            yield b"x" * 2**20

    kind = {"content-type": "multipart/form-data; boundary=x"}
    unstated = owner.client.post("/tubes.import", content=pieces(), headers=kind)
    assert unstated.status_code == 413


def test_too_many_photographs_are_refused_with_the_bound_for_photographs(owner: Visitor) -> None:
    length = {"content-length": str(MOST_PHOTOGRAPHS_SENT + 1)}
    large = owner.client.post("/photographs", content=b"x", headers=length)
    assert large.status_code == 413 and "96 MB" in large.text


def test_odd_requests_are_told_off(reader: Visitor) -> None:
    assert reader.client.get("/tubes", params={"q": "x" * 9000}).status_code == 414
    assert reader.client.get("/tubes", params={"q": "x" * 301}).status_code == 422
    assert reader.client.get("/nowhere").status_code == 404
    assert reader.client.delete("/tubes").status_code == 405
    assert reader.client.get("/tubes", headers={"content-length": "many"}).status_code == 400
    assert reader.client.get("/static/../app.py").status_code == 404
    assert reader.client.get("/static/%2e%2e/app.py").status_code == 404


def test_no_address_leads_to_another_host(reader: Visitor) -> None:
    page = reader.client.get("http://127.0.0.1//elsewhere.example/x").text
    assert 'href="//' not in page and 'href="/elsewhere.example/x?units=us"' in page


def test_a_broken_cookie_is_no_fault(reader: Visitor) -> None:
    assert reader.client.get("/label", headers={"cookie": "a b=;;=\x01,"}).status_code == 200


def test_a_fault_of_ours_is_told_without_its_insides(
    shop: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("the secret insides")

    monkeypatch.setattr("tubewise.web.pages.names.misleading", broken)
    client = TestClient(application(shop), base_url=BASE, raise_server_exceptions=False)
    answer = client.get("/names")
    assert answer.status_code == 500
    assert "A fault of ours" in answer.text and "secret" not in answer.text
    assert "content-security-policy" in answer.headers
    assert client.get("/api/names").json()["error"]


@pytest.mark.slow
def test_pages_follow_the_store(owner: Visitor) -> None:
    assert "Seat 13" not in owner.get("/class/boxes?boxes=Moor")
    owner.send("/class/boxes", boxes="Moor", seat="13", tubes="Rose, PV19")
    assert "Seat 13" in owner.get("/class/boxes?boxes=Moor")


def test_a_kept_page_carries_the_readers_own_token(owner: Visitor) -> None:
    first = owner.get("/class/boxes?boxes=Moor")
    mine = owner.token()
    owner.client.cookies.clear()
    second = owner.get("/class/boxes?boxes=Moor")
    assert mine in first and mine not in second and "@@the-form" not in second


@pytest.mark.parametrize(
    ("name", "plain"),
    [
        ("boxes.csv", "boxes.csv"),
        ("../../etc/passwd.csv", "passwd.csv"),
        ("C:\\Users\\x\\My boxes.XLSX", "My boxes.xlsx"),
        ("a\x00b;rm -rf.csv", "a_b_rm -rf.csv"),
        ("....csv", "___.csv"),
    ],
)
def test_an_upload_never_keeps_its_own_path(name: str, plain: str) -> None:
    kept = plain_file_name(name, SHEETS)
    assert "/" not in kept and "\\" not in kept and not kept.startswith(".")
    if plain != "___.csv":
        assert kept == plain


@pytest.mark.parametrize("name", ["macro.xlsm", "x.exe", "", None, ".csv", "noending"])
def test_other_kinds_of_files_are_refused(name: str | None) -> None:
    with pytest.raises(UserError, match="not read here"):
        plain_file_name(name, SHEETS)


@pytest.mark.slow
def test_workbooks_that_unpack_to_too_much(owner: Visitor) -> None:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as book:
        for n in range(6):
            book.writestr(f"{n}.xml", b"0" * (50 * 2**20))
    files = {"file": ("bomb.xlsx", packed.getvalue())}
    assert "unpacks to 300 MB" in owner.send("/tubes.import", 422, files=files).text
    files = {"file": ("no.xlsx", b"not a zip")}
    assert "called a workbook but isn" in owner.send("/tubes.import", 422, files=files).text
    assert "empty" in owner.send("/tubes.import", 422, files={"file": ("e.csv", b"")}).text


def test_cookies_go_out_only_encrypted_where_pages_came_so(shop: Store) -> None:
    app = application(shop)
    plain = TestClient(app, base_url="http://127.0.0.1").get("/label").headers["set-cookie"]
    sealed = TestClient(app, base_url="https://127.0.0.1").get("/label").headers["set-cookie"]
    assert "Secure" not in plain and sealed.endswith("; Secure")
