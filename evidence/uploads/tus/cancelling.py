"""Ends an upload because its sender says so."""

from evidence.storage import partial_files
from evidence.uploads.tus.ending import drop
from evidence.uploads.tus.upload import Upload
from evidence.uploads.withdrawal import remove_piece


def cancel(upload: Upload) -> None:
    """End *upload* because its sender says so; what became of it is taken back.

    Raises TooLateError when that has been looked at, and BusyError.
    """
    if upload.state == Upload.State.DONE:
        for piece in upload.pieces.filter(withdrawn_at=None):
            remove_piece(piece)
        Upload.objects.filter(pk=upload.pk).update(state=Upload.State.ENDED)
        return
    with partial_files.held(upload.file):
        drop(upload, Upload.State.ENDED)
