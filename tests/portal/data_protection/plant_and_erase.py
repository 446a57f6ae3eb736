"""Run by a test in a data folder of its own: plant words about a child, then erase the child.

python -m tests.portal.data_protection.plant_and_erase plant|erase WORDS.json
"""

import json
import sys
from pathlib import Path

import django


def main(action: str, words: Path) -> None:
    """Do one of the two actions."""
    django.setup()
    from portal.data_protection.erasure.erase import erase_child
    from portal.people.models import Child
    from tests.portal.data_protection.builders import plant
    from tests.village import Village

    if action == "plant":
        planted: dict[str, str] = {}
        life = plant(Village.build(), planted)
        words.write_text(json.dumps({"child": life.village.aisha.pk, "words": planted}))
        return
    erase_child(Child.objects.get(pk=json.loads(words.read_text())["child"]))


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]))
