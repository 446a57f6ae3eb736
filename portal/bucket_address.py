"""Reads STORAGE_URL: the bucket of an S3-compatible store, with the keys to it."""

from typing import Any
from urllib.parse import SplitResult, parse_qs, unquote, urlsplit

from django.core.exceptions import ImproperlyConfigured

FORM = "s3://KEY:SECRET@host/bucket?region=eu-west-2"
SCHEMES = {"s3": "https", "s3+http": "http"}
OPTIONS = {"region", "encryption", "acl"}
ENCRYPTIONS = ("AES256", "aws:kms")


def bucket_at(url: str) -> dict[str, Any]:
    """Return the entry of STORAGES for the bucket at *url*: FORM, or s3+http:// without TLS.

    `encryption` (AES256 or aws:kms) and `acl` (private) are sent along with each file where the
    store asks for them: by default S3 keeps a file private, and many buckets refuse the header.
    Raises ImproperlyConfigured, and never repeats the keys.
    """
    parts, options = split(url)
    if options.get("encryption", ENCRYPTIONS[0]) not in ENCRYPTIONS:
        raise ImproperlyConfigured(f"STORAGE_URL: encryption is one of {', '.join(ENCRYPTIONS)}.")
    if options.get("acl", "private") != "private":
        raise ImproperlyConfigured("STORAGE_URL: the only acl is private.")
    headers = {"ServerSideEncryption": options.get("encryption"), "ACL": options.get("acl")}
    return {
        "BACKEND": "evidence.storage.bucket.Bucket",
        "OPTIONS": {
            "access_key": unquote(parts.username or ""),
            "secret_key": unquote(parts.password or ""),
            "bucket_name": parts.path.strip("/"),
            "endpoint_url": f"{SCHEMES[parts.scheme]}://{parts.netloc.rpartition('@')[2]}",
            "region_name": options.get("region", "us-east-1"),
            "object_parameters": {name: value for name, value in headers.items() if value},
        },
    }


def split(url: str) -> tuple[SplitResult, dict[str, str]]:
    """Take *url* apart into its parts and its options. Raises ImproperlyConfigured."""
    try:
        parts = urlsplit(url)
        asked = parse_qs(parts.query, strict_parsing=bool(parts.query))
        whole = all([parts.hostname, parts.username, parts.password, parts.path.strip("/")])
        sound = whole and parts.port != 0 and "/" not in parts.path.strip("/")
    except ValueError:
        sound, asked = False, {}
    if not sound or parts.scheme not in SCHEMES:
        raise ImproperlyConfigured(f"STORAGE_URL must look like {FORM}.")
    if strangers := asked.keys() - OPTIONS:
        raise ImproperlyConfigured(f"STORAGE_URL: unknown {', '.join(sorted(strangers))}.")
    return parts, {name: values[-1] for name, values in asked.items()}
