"""Does a run find a free port, or say that the one asked for is taken?"""

import socket

import pytest

from contractor.local import ports
from contractor.local.accounts import Unavailable


@pytest.fixture
def taken():
    with socket.socket() as server:
        server.bind(("127.0.0.1", 0))
        server.listen()
        yield server.getsockname()[1]


def test_a_taken_port_is_passed_over(taken):
    assert not ports.is_free(taken)
    assert ports.next_free(taken) > taken


def test_the_port_asked_for_is_never_replaced_by_another(taken):
    with pytest.raises(Unavailable, match=f"Port {taken} is taken"):
        ports.web(str(taken))


@pytest.mark.parametrize("wanted", ["eight", "0", "70000", "-1", "8000.0"])
def test_a_port_that_is_none_is_refused(wanted):
    with pytest.raises(Unavailable, match="PORT must be a number"):
        ports.web(wanted)
