"""The square code in the terminal, for a phone in the same network."""

import pytest

from portal.management.commands.demo import square_code
from tests.square_codes import code_in_terminal

LONG = "http://kitchen-of-a-long-name.some-county.example.org:54321/at-home/demo/as/family/"


@pytest.mark.parametrize("address", ["http://10.0.0.2:8000/demo/as/family/", LONG])
def test_a_phone_reads_the_code_off_the_terminal(address):
    assert code_in_terminal(square_code(address)) == address
