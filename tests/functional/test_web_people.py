"""Accounts: the first owner, signing in, invitations, roles, passwords, keys, and who stands beside each record."""

from __future__ import annotations

import re
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from django.contrib.auth.hashers import make_password
from django.test import Client
from django.utils import timezone
from tests.functional.accounts import PASSWORD, person, signed_in

from bolewright.store.folder import first_code, kept_alone
from bolewright.store.keys import key_of, make_key
from bolewright.store.models import Invitation, Key, PeopleEntry, Person, SignInTry
from bolewright.store.people import Refused, accept, change_role, invitation_of, invite, renew, set_active
from bolewright.store.signin import MOST_HERE
from bolewright.store.tokens import token_hash

pytestmark = pytest.mark.django_db
ANN = {"login": "Ann", "name": "Ann Field", "password": PASSWORD, "again": PASSWORD}


@pytest.fixture(autouse=True)
def _accounts(settings: Any, tmp_path: Path) -> None:
    settings.BOLEWRIGHT_ALONE = False
    settings.BOLEWRIGHT_DATA = tmp_path


def sign_in(login: str = "crew", password: str = PASSWORD, client: Client | None = None) -> Any:
    """The answer to a try."""
    return (client or Client()).post("/sign-in", {"login": login, "password": password})


def test_first_run_makes_the_owner_once(client: Client, tmp_path: Path) -> None:
    """Every page leads there; without the code of the data folder there is no account; afterwards the page is gone."""
    assert client.get("/").headers["Location"] == "/first"
    assert client.get("/sign-in").headers["Location"] == "/first"
    assert client.get("/first").status_code == 200
    code = (tmp_path / "first-code").read_text()
    assert (tmp_path / "first-code").stat().st_mode & 0o077 == 0
    for wrong in ("", "x", code[:-1]):
        assert client.post("/first", {**ANN, "code": wrong}).status_code == 422
    assert client.post("/first", {**ANN, "again": "another", "code": code}).status_code == 422
    assert not Person.objects.exists()
    assert client.post("/first", {**ANN, "code": code}).headers["Location"] == "/people"
    ann = Person.objects.get()
    assert (ann.login, ann.role, ann.check_password(PASSWORD)) == ("ann", "owner", True)
    assert client.get("/people").status_code == 200
    assert not (tmp_path / "first-code").exists()
    again = Client().post("/first", {**ANN, "login": "bob", "name": "Bob", "code": code})
    assert again.status_code == 302
    assert Person.objects.count() == 1


def test_one_person_on_this_machine_chooses_not_to_sign_in(client: Client, tmp_path: Path, settings: Any) -> None:
    """Only with the code, only where it is offered, and until somebody has an account."""
    code = first_code(tmp_path)
    assert client.post("/first", {"alone": "1", "code": code}).status_code == 422  # others reach this server
    settings.BOLEWRIGHT_MAY_BE_ALONE = True
    assert client.post("/first", {"alone": "1", "code": "x"}).status_code == 422
    assert client.get("/").status_code == 302
    assert client.post("/first", {"alone": "1", "code": code}).headers["Location"] == "/"
    assert kept_alone(tmp_path)
    assert client.get("/").status_code == 200
    settings.BOLEWRIGHT_ALONE = False  # started again with --accounts
    assert client.post("/first", {**ANN, "code": code}).headers["Location"] == "/people"
    assert not kept_alone(tmp_path)


def test_an_empty_code_is_no_code(client: Client, tmp_path: Path) -> None:
    """A file cut short must not open the door to an empty answer."""
    (tmp_path / "first-code").write_text("")
    assert first_code(tmp_path) == ""
    assert client.post("/first", {**ANN, "code": ""}).status_code == 422


@pytest.mark.parametrize("password", ["short", "password123", "1234567890123", "Ann Field 1", "ann field"])
def test_weak_passwords_are_refused_in_words(client: Client, tmp_path: Path, password: str) -> None:
    """Short, common, figures only, or the person's own name."""
    given = {**ANN, "password": password, "again": password, "code": first_code(tmp_path)}
    answer = client.post("/first", given)
    assert answer.status_code == 422
    assert b'class="fault"' in answer.content
    assert not Person.objects.exists()


def test_passwords_are_hashed_with_the_frameworks_own(settings: Any) -> None:
    """As it is delivered, not as the tests hurry it."""
    from django.conf import global_settings

    settings.PASSWORD_HASHERS = global_settings.PASSWORD_HASHERS
    assert make_password(PASSWORD).startswith("pbkdf2_sha256$")


def test_sign_in_and_out(client: Client) -> None:
    """With a cookie no script can read; wrong name and wrong password get the same words."""
    person("crew")
    wrong = [sign_in("crew", "wrong").content, sign_in("nobody", "wrong").content]
    seen = [re.findall(r'class="fault"[^<]*', text.decode()) for text in wrong]
    assert seen[0] == seen[1] != []
    assert (
        client.post("/sign-in", {"login": " CREW ", "password": PASSWORD, "next": "/new"}).headers["Location"] == "/new"
    )
    cookie = client.cookies["bolewright-session"]
    assert cookie["httponly"]
    assert cookie["samesite"] == "Lax"
    assert client.get("/new").status_code == 200
    client.post("/sign-out")
    assert client.get("/new").status_code == 401


def test_sign_in_leads_to_no_other_site(client: Client) -> None:
    """A made-up place to go on to is dropped."""
    person("crew")
    given = {"login": "crew", "password": PASSWORD, "next": "https://elsewhere.example/"}
    assert client.post("/sign-in", given).headers["Location"] == "/"


def test_cookies_are_secure_behind_https() -> None:
    """The settings as they are read with and without https."""
    import os
    import subprocess
    import sys

    code = ("from django.conf import settings as s; print(s.SESSION_COOKIE_SECURE, s.CSRF_COOKIE_SECURE, "
            "s.SECURE_HSTS_SECONDS > 0, s.BOLEWRIGHT_ALONE)")  # fmt: skip
    for asked, said in (("1", "True True True False"), ("", "False False False False")):
        environment = {**os.environ, "DJANGO_SETTINGS_MODULE": "bolewright.web.settings", "BOLEWRIGHT_HTTPS": asked}
        environment.pop("BOLEWRIGHT_ALONE", None)
        done = subprocess.run([sys.executable, "-c", code], env=environment, capture_output=True, text=True, check=True)
        assert done.stdout.strip() == said


def test_too_many_tries_make_a_pause() -> None:
    """After five wrong ones the right password waits too; other people at the same place do not; later it goes on."""
    person("crew")
    person("office")
    for _ in range(MOST_HERE):
        assert sign_in("crew", "wrong").status_code == 422
    assert sign_in("crew").status_code == 429
    assert sign_in("office").status_code == 302
    SignInTry.objects.update(at=timezone.now() - timedelta(minutes=16))
    assert sign_in("crew").status_code == 302
    assert not SignInTry.objects.filter(login="crew").exists()


def invited(owner: Client, role: str = "crew", **more: str) -> str:
    """The path of a fresh invitation's link."""
    text = owner.post("/people/invite", {"role": role, "note": "Bo", "days": "1", **more}).content.decode()
    found = re.search(r'id="link">http://testserver(/invited/[\w-]{43})<', text)
    assert found is not None, text
    return found[1]


def test_an_invitation_is_used_once(client: Client) -> None:
    """Shown once, kept as a hash; looking does not use it up; the role is the one fixed when it was made."""
    owner = signed_in("owner")
    path = invited(owner)
    token = path.rsplit("/", 1)[1]
    assert token not in owner.get("/people").content.decode()
    kept = Invitation.objects.get()
    assert kept.digest == token_hash(token)
    for _ in range(2):
        answer = client.get(path)
        assert answer.status_code == 200
        assert answer.headers["Referrer-Policy"] == "same-origin"
        assert "noindex" in answer.headers["X-Robots-Tag"]
    bo = {"login": "bo", "name": "Bo Ash", "password": PASSWORD, "again": PASSWORD, "role": "owner"}
    assert client.post(path, {**bo, "password": "x"}).status_code == 422
    assert client.post(path, bo).status_code == 302
    assert Person.objects.get(login="bo").role == "crew"
    assert client.get("/new").status_code == 200
    assert client.get("/people").status_code == 403
    assert Client().get(path).status_code == 410
    assert Client().post(path, {**bo, "login": "eve", "name": "Eve"}).status_code == 410
    assert Person.objects.count() == 2


def test_an_invitation_ends(client: Client) -> None:
    """Revoked or too old, it makes no account."""
    owner = signed_in("owner")
    one, two = invited(owner), invited(owner)
    newest = Invitation.objects.first()
    assert newest is not None
    owner.post(f"/people/invitations/{newest.pk}/revoke")
    assert client.get(two).status_code == 410
    assert client.get(one).status_code == 200
    Invitation.objects.filter(revoked_at=None).update(expires_at=timezone.now() - timedelta(seconds=1))
    assert client.get(one).status_code == 410
    assert [i.state for i in Invitation.objects.all()] == ["revoked", "expired"]


def test_names_stay_clear() -> None:
    """Two people never have the same name or sign-in name, however it is capitalised."""
    person("crew", "bo", name="Bo Ash")
    for login, name in (("BO", "Other"), ("other", "bo ash"), ("has space", "Other"), ("ok", "O")):
        _, token = invite("crew", "", 1, "Owner")
        with pytest.raises(Refused):
            accept(token, login, name, PASSWORD, PASSWORD)
        assert invitation_of(token) is not None  # a refusal does not use it up


def test_the_last_owner_stays() -> None:
    """Neither disabled nor made something else, not even one after the other."""
    ann, bo = person("owner", "ann"), person("owner", "bo")
    set_active(bo, False, "Ann")
    for change in (lambda: set_active(ann, False, "Ann"), lambda: change_role(ann, "crew", "Ann")):
        with pytest.raises(Refused, match="last owner"):
            change()
    set_active(bo, True, "Ann")
    change_role(ann, "crew", "Bo")
    with pytest.raises(Refused, match="last owner"):
        change_role(bo, "viewer", "Bo")
    client = Client()
    client.force_login(bo)
    assert client.post(f"/people/{bo.pk}/disable").status_code == 422
    assert Person.objects.get(pk=bo.pk).is_active
    assert "made Ann Field crew" in [entry.said for entry in PeopleEntry.objects.all()]


def test_a_disabled_person_is_out_at_once() -> None:
    """Session, keys, sign-in and links to a new password all end; being let in again brings the account back."""
    owner, crew = signed_in("owner"), signed_in("crew")
    who = Person.objects.get(login="crew")
    _, token = make_key(who, "truck", who.name)
    _, link = renew(who, "Owner")
    assert crew.get("/new").status_code == 200
    owner.post(f"/people/{who.pk}/disable")
    assert crew.get("/new").status_code == 401
    assert sign_in("crew").status_code == 422
    assert key_of(token) is None
    assert invitation_of(link) is None
    owner.post(f"/people/{who.pk}/disable", {"again": "1"})
    assert sign_in("crew").status_code == 302


def test_another_role_holds_at_once() -> None:
    """From the next request on."""
    owner, crew = signed_in("owner"), signed_in("crew")
    who = Person.objects.get(login="crew")
    owner.post(f"/people/{who.pk}/role", {"role": "viewer"})
    assert crew.get("/new").status_code == 403
    assert owner.post(f"/people/{who.pk}/role", {"role": "king"}).status_code == 422


def test_a_new_password_ends_other_sessions() -> None:
    """Changed with the old one, or by a link of the owner that works once."""
    here = signed_in("crew")
    who = Person.objects.get(login="crew")
    there = Client()
    there.force_login(who)
    wrong = {"old": "wrong", "password": PASSWORD + "x", "again": PASSWORD + "x"}
    assert here.post("/account/password", wrong).status_code == 422
    assert here.post("/account/password", {**wrong, "old": PASSWORD}).status_code == 200
    assert here.get("/account").status_code == 200
    assert there.get("/account").status_code == 401
    _, earlier = renew(who, "Owner")
    _, token = renew(who, "Owner")
    new = {"password": "beech by the barn", "again": "beech by the barn"}
    assert Client().post(f"/invited/{earlier}", new).status_code == 410
    assert Client().post(f"/invited/{token}", new).status_code == 302
    assert here.get("/account").status_code == 401
    assert sign_in("crew", "beech by the barn").status_code == 302
    assert Client().post(f"/invited/{token}", new).status_code == 410


def test_keys_are_shown_once_and_revoked() -> None:
    """Only the hash and the first characters are kept; nobody revokes another's."""
    crew, other = signed_in("crew"), signed_in("office")
    text = crew.post("/account/keys", {"label": "truck"}).content.decode()
    found = re.search(r"bw_[\w-]{43}", text)
    assert found is not None
    key = Key.objects.get()
    assert (key.digest, key.start) == (token_hash(found[0]), found[0][:8])
    assert found[0] not in crew.get("/account").content.decode()
    assert other.post(f"/account/keys/{key.pk}/revoke").status_code == 404
    assert key_of(found[0]) is not None
    crew.post(f"/account/keys/{key.pk}/revoke")
    assert key_of(found[0]) is None


def test_records_carry_the_account_and_not_the_cookie(kept: Any) -> None:
    """A name set on the device, or typed into a form, does not stand for another."""
    job, crew = kept(), signed_in("crew")
    crew.cookies["bolewright-who"] = "Somebody%20else"
    crew.post(f"/job/{job.key}/save/call", {"base": 1, "job/site": "12 Elm Street"})
    crew.post(f"/job/{job.key}/work/observe", {"kind": "other", "said": "creaks"})
    crew.post(f"/job/{job.key}/photos/waive", {"view": "lines", "reason": "dark", "by": "Somebody else"})
    assert job.latest.by == "Crew Field"
    assert [e.by for e in job.log.all()] == ["Crew Field"]
    assert [w.by for w in job.waivers.all()] == ["Crew Field"]


def test_alone_needs_no_account(settings: Any, client: Client) -> None:
    """One person's machine, by setting: everything is open, and a name can be given on the device."""
    settings.BOLEWRIGHT_ALONE = True
    assert client.get("/").status_code == 200
    client.cookies["bolewright-who"] = "Ann%20Field"
    assert client.get("/account").status_code == 200
    _, token = make_key(None, "script", "")
    assert key_of(token) is not None
