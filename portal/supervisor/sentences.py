"""What an operator can put right is told in a sentence, whichever command it was that met it."""

import errno
import sys
from collections.abc import Iterator
from contextlib import contextmanager

from django.core.exceptions import ImproperlyConfigured
from django.db import OperationalError, ProgrammingError


@contextmanager
def in_sentences(arguments: list[str]) -> Iterator[None]:
    """End with 1 and a sentence for a wrong setting, or a database or folder that is not to be had.

    With --traceback among the *arguments* all is told.
    """
    if "--traceback" in arguments:
        yield
        return
    try:
        yield
    except ImproperlyConfigured as error:
        sys.exit(f"The settings are wrong: {error}")
    except (OperationalError, ProgrammingError) as error:
        sys.exit(of_database(error))
    except PermissionError as error:
        sys.exit(f"{error.filename} cannot be used by this user ({error.strerror}).")
    except (NotADirectoryError, FileExistsError) as error:
        sys.exit(f"{error.filename} is no folder that can be used ({error.strerror}).")
    except OSError as error:
        if error.filename is None or error.errno != errno.EROFS:
            raise
        sys.exit(f"{error.filename} cannot be written: it can only be read.")


def of_database(error: Exception) -> str:
    """Say what is wrong with the database: what it lacks is made by `prepare`."""
    words = str(error).strip().splitlines()[0]
    if "no such table" in words or "no such column" in words or "does not exist" in words:
        return f"The database is not prepared ({words}). Run first: python3 manage.py prepare"
    return f"The database cannot be used: {words}"
