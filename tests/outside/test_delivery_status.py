"""A delivery status as the standard prints it is read as the standard says.

Source: RFC 3464 (January 2003), section 2.1.1 (a multipart/report with a part of type
message/delivery-status), section 2.2 and 2.3 (fields for the message, a blank line, fields for each
recipient), section 2.3.3 (Action: failed, delayed, delivered, relayed, expanded), and the examples
of appendix D, here with addresses under example.org. From memory: their wording.
"""

import pytest

from portal.people.accounts.bounces import failed_addresses

MANY = b"""Date: Fri, 8 Jul 1994 09:21:47 -0400
From: Mail Delivery Subsystem <MAILER-DAEMON@cs.example.org>
Subject: Returned mail: User unknown
To: <owner@cs.example.org>
MIME-Version: 1.0
Content-Type: multipart/report; report-type=delivery-status;
      boundary="JAA13167.773673707/CS.EXAMPLE.ORG"

--JAA13167.773673707/CS.EXAMPLE.ORG
content-type: text/plain; charset=us-ascii

   ----- The following addresses had delivery problems -----
<arathib@vnet.example.org>  (unrecoverable error)
<wsnell@sdcc13.example.org>  (unrecoverable error)

--JAA13167.773673707/CS.EXAMPLE.ORG
content-type: message/delivery-status

Reporting-MTA: dns; cs.example.org

Original-Recipient: rfc822;arathib@vnet.example.org
Final-Recipient: rfc822;arathib@vnet.example.org
Action: failed
Status: 5.0.0 (permanent failure)
Diagnostic-Code: smtp; 550 'arathib@vnet.example.org' is not a
 registered gateway user
Remote-MTA: dns; vnet.example.org

Original-Recipient: rfc822;johnh@hpnjld.example.org
Final-Recipient: rfc822;johnh@hpnjld.example.org
Action: delayed
Status: 4.0.0 (hpnjld.example.org: host name lookup failure)

Original-Recipient: rfc822;wsnell@sdcc13.example.org
Final-Recipient: rfc822;wsnell@sdcc13.example.org
Action: failed
Status: 5.0.0
Diagnostic-Code: smtp; 550 user unknown
Remote-MTA: dns; sdcc13.example.org

--JAA13167.773673707/CS.EXAMPLE.ORG
content-type: message/rfc822

To: somebody@else.example.org
Subject: what was sent

Action: failed
--JAA13167.773673707/CS.EXAMPLE.ORG--
"""
# Mail that was handed over to a system of another kind, whose addresses are not of the internet.
FOREIGN = b"""MIME-Version: 1.0
Content-Type: multipart/report; report-type=delivery-status; boundary="b"

--b
Content-Type: message/delivery-status

Reporting-MTA: dns; sun2.example.org

Final-Recipient: unknown; nair_s
Action: FAILED
Status: 5.0.0 (unknown permanent failure)

Final-Recipient: RFC822; Rabbit@Example.org (a comment)
Action: Failed (once and for all)
--b--
"""


def test_of_several_recipients_those_that_failed_are_found_and_no_other():
    assert failed_addresses(MANY) == {"arathib@vnet.example.org", "wsnell@sdcc13.example.org"}


def test_types_and_actions_are_compared_without_regard_to_case_or_comments():
    assert failed_addresses(FOREIGN) == {"rabbit@example.org"}


@pytest.mark.parametrize("cut", range(0, len(MANY), 97))
def test_a_report_that_is_cut_anywhere_breaks_nothing(cut):
    assert failed_addresses(MANY[:cut]) <= {"arathib@vnet.example.org", "wsnell@sdcc13.example.org"}


def test_an_ordinary_mail_that_talks_of_failure_is_none():
    plain = b"Subject: Action: failed\n\nFinal-Recipient: rfc822; a@example.org\nAction: failed\n"
    assert failed_addresses(plain) == set()
