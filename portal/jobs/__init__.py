"""Work behind the pages: leased rows, slots by weight, and handing work over. Knows no app.

A row that is worked on is a `Leased` one (lease.py), a mail an `Outgoing` one (outbox.py). What a
new kind of mail takes, with a line in the schedule that sends the job:

    class GreetingQuerySet(OutgoingQuerySet["Greeting"]):
        pauses = (dt.timedelta(minutes=10), dt.timedelta(hours=1))  # after each refusal

    class Greeting(Outgoing):
        reader = models.ForeignKey("people.User", on_delete=models.CASCADE, related_name="+")
        objects = GreetingQuerySet.as_manager()

    @shared_task
    @alone
    def send_greetings() -> None:
        send_each(Greeting.objects.all(), Greeting.objects.keys_to_send(), greeting_in_words)

Work that is no mail has `unfinished()` start at `unleased()`, and a job that claims by `take`,
works inside `renewed`, and calls `give_back` for trouble of our own and `note_crash` for the row's.
A mail that comes again and again carries the headers of a `StopLink` (unsubscribing.py).
"""
