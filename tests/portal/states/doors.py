"""The states of the doors: pages that everybody can open."""

from tests.portal.states import Group, Look, State, press, send_badly, write

SIGN_IN = "/sign-in/"
STATES = (
    State("signing in", SIGN_IN, "main form"),
    State("no address was written", SIGN_IN, ".form-errors", (send_badly("main form"),)),
    State(
        "a code is asked for",
        SIGN_IN,
        "[name=code]",
        (write("[name=email]", "family@example.org"), press("main form button")),
    ),
    State(
        "a wrong code",
        SIGN_IN,
        ".form-errors",
        (
            write("[name=email]", "family@example.org"),
            press("main form button"),
            write("[name=code]", "12"),
            send_badly("main form"),
        ),
    ),
    State("a link that is dead", "/sign-in/link/#x", "main h1"),
    State("in with a slip", "/come-in/", "main form"),
    State(
        "letters that are on no slip",
        "/come-in/",
        ".form-errors",
        (write("main form input:not([type=hidden])", "abcd-efgh"), send_badly("main form")),
    ),
    State("staff sign in", "/sign-in/staff/", "[type=password]"),
    State(
        "a wrong password",
        "/sign-in/staff/",
        ".form-errors",
        (
            write("[type=email], [name=username], [name=email]", "teacher@example.org"),
            write("[type=password]", "not it"),
            send_badly("main form"),
        ),
    ),
    State("a forgotten password", "/sign-in/staff/forgotten/", "main form"),
    State("a password by a dead link", "/set-password/", "main h1"),
    State("no line", "/no-line/", "main h1"),
    State("no such page", "/no-such-page/", "main .slip", status=404),
)
SAME = (STATES[1], STATES[3], STATES[6], STATES[8])
GROUPS = (
    Group("at the door", "visitor", STATES),
    Group("at the door, dark", "visitor", SAME, Look("dark", media=(("color_scheme", "dark"),))),
    Group("at the door, letters twice as large", "visitor", SAME, Look("large", letters=2)),
    Group(
        "at the door, small, colours forced",
        "visitor",
        SAME,
        Look("forced", 320, media=(("forced_colors", "active"),)),
    ),
)
