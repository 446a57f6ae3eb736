"""The private store, in a folder or a bucket: read, served, compared and swept."""
