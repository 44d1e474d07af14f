"""One job in a process of its own."""

from __future__ import annotations

import sys


def main(key: str) -> None:
    """Do the job with this key."""
    import django

    django.setup()
    from bedwright.web.jobs import run
    from bedwright.web.models import Job

    run(Job.objects.get(pk=key))


if __name__ == "__main__":
    main(sys.argv[1])
