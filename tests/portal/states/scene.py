"""The scene in which the states are: one of everything, and a whole day set for today."""

from evidence.models import Submission
from tasks import planning
from tasks.models import DayPlan
from tasks.planning import Seen
from tasks.usual import usual_day
from tests.access.scene import Scene
from tests.assessment.builders import looked
from tests.tasks.builders import gone_out


def states_scene() -> Scene:
    """Set today's usual day on halving, and let the teacher have answered the earlier work."""
    scene = Scene.build()
    village = scene.village
    teacher, today = village.people["teacher"], village.school.today()
    DayPlan.objects.filter(date=today).delete()  # the scene may plan it as well
    plan = DayPlan(school_class=village.robins, date=today, version=0)
    planning.draft_day(plan, usual_day("halving", 10), Seen(0, teacher))
    gone_out(DayPlan.objects.get(school_class=village.robins, date=today))
    looked(Submission.objects.get(token=scene.arguments["token"]), teacher, "Fair shares!")
    scene.arguments |= {"date": today, "cal": village.cal.pk}
    return scene
