"""What a file of a job is called."""


def plain(name: str) -> str:
    """Return a name in signs that every file system has, others as hyphens; empty where none is left."""
    return "".join(sign if sign.isascii() and sign.isalnum() else "-" for sign in name).strip("-")
