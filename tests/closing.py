"""How a run of the tests ends: each reason for a skip once, then one line of figures."""

NOT_GIVEN = "files of other people's making are not here (SHARED_MEDIA names their folder)"
