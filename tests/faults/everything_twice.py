"""Sends every job there is about every piece, twice, in an order of chance.

Run as `python -m tests.faults.everything_twice`.
"""

import random

import django


def main() -> None:
    """Send them."""
    django.setup()
    from evidence.jobs import look_again_at_damaged, prepare, scrub, sweep, turn
    from evidence.models import Piece

    pieces = list(Piece.objects.values_list("pk", flat=True))
    jobs = [(job, (pk,)) for pk in pieces for job in (prepare, turn)]
    jobs += [(job, ()) for job in (sweep, scrub, look_again_at_damaged)]
    chance = random.Random("out of order")
    for _time in range(2):
        chance.shuffle(jobs)
        for job, arguments in jobs:
            job.apply_async(arguments)


if __name__ == "__main__":
    main()
