"""One signature a job: drawn, typed, or a reason; replaced knowingly, kept once."""

import uuid

import pytest
from django.db import IntegrityError, transaction

from contractor.errors import Invalid, Refused, Stale
from jobs.models import Signature, Visit
from jobs.planning.words import CloseOutKind
from jobs.services import signing
from tests.factories import field as make_field
from tests.factories import jobs as make

pytestmark = pytest.mark.django_db
NOW = make.at(9)
DRAWN = {"signed_name": "Maren Holloway", "strokes": make_field.STROKES}


@pytest.fixture
def visit() -> Visit:
    make.firm()
    return make_field.under_way()


def sign(visit, **said):
    by = said.pop("by", None) or make_field.worker(visit)
    return signing.sign(job=visit.job, visit=visit, by=by, now=NOW, **said)


def line(visit):
    return make_field.line(visit.job, CloseOutKind.SIGNATURE)


def test_a_drawn_signature_keeps_its_strokes_and_answers_the_line(visit):
    signature = sign(visit, **DRAWN)
    assert signature.strokes["strokes"][1] == [[160.0, 80.0], [220.0, 84.3]]
    assert (signature.signed_name, signature.signed_at) == ("Maren Holloway", NOW)
    assert (line(visit).done_by, line(visit).done_at) == (make_field.worker(visit), NOW)


def test_a_typed_name_is_kept_as_typed_and_no_drawing_with_it(visit):
    signature = sign(visit, **DRAWN, by_typed_name=True)
    assert (signature.by_typed_name, signature.strokes) == (True, None)


def test_a_reason_stands_where_nobody_could_sign(visit):
    signature = sign(visit, **DRAWN, absent_reason="Tenant at work, agreed by phone.")
    assert (signature.signed_name, signature.strokes) == ("", None)
    assert line(visit).done_at == NOW


@pytest.mark.parametrize(
    ("said", "at_field"),
    [
        ({"strokes": make_field.STROKES}, "signed_name"),
        ({"signed_name": "Maren Holloway"}, "strokes"),
        ({"signed_name": "Maren Holloway", "strokes": {"width": 3}}, "strokes"),
        ({}, "signed_name"),
    ],
)
def test_half_a_signature_is_refused_at_what_is_missing(visit, said, at_field):
    with pytest.raises(Invalid) as refused:
        sign(visit, **said)
    assert list(refused.value.fields) == [at_field]
    assert not Signature.objects.exists()
    assert line(visit).done_at is None


def test_the_same_signature_sent_twice_is_kept_once(visit):
    key = uuid.uuid4()
    first = sign(visit, **DRAWN, signature_id=key)
    again = sign(visit, **DRAWN, signature_id=key)
    assert (again.pk, again.rev, Signature.objects.count()) == (key, first.rev, 1)


def test_replacing_a_signature_names_the_one_it_replaces(visit):
    first = sign(visit, **DRAWN)
    other = {"signed_name": "Piet Lindqvist", "by_typed_name": True}
    with pytest.raises(Stale):
        sign(visit, **other)
    replaced = sign(visit, **other, rev=first.rev)
    assert (replaced.pk, replaced.signed_name) == (first.pk, "Piet Lindqvist")
    assert replaced.rev == first.rev + 1


def test_taken_back_the_line_is_open_again(visit):
    signature = sign(visit, **DRAWN)
    by = make_field.worker(visit)
    with pytest.raises(Stale):
        signing.take_back_signature(signature=signature, by=by, rev=7)
    signing.take_back_signature(signature=signature, by=by, rev=signature.rev)
    signing.take_back_signature(signature=signature, by=by)
    assert not Signature.objects.exists()
    assert line(visit).done_at is None


def test_a_stranger_may_not_take_a_signature(visit):
    with pytest.raises(Refused) as refused:
        sign(visit, **DRAWN, by=make_field.technician())
    assert refused.value.code == "not_yours"


def test_the_database_keeps_no_signature_that_is_neither_one_thing_nor_another(visit):
    signature = sign(visit, **DRAWN)
    for mixed in ({"absent_reason": "away"}, {"by_typed_name": True}, {"signed_name": ""}):
        with pytest.raises(IntegrityError), transaction.atomic():
            Signature.objects.filter(pk=signature.pk).update(**mixed)


def test_the_id_of_another_jobs_signature_is_refused(visit):
    first = sign(visit, **DRAWN, signature_id=uuid.uuid4())
    with pytest.raises(Refused) as refused:
        sign(make_field.under_way(), **DRAWN, signature_id=first.pk)
    assert refused.value.code == "id_taken"
