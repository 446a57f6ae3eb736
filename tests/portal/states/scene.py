"""The scene in which the states are: one of everything, and a whole day set for today."""

import datetime as dt

from evidence.models import Submission
from tasks.models import DayPlan, Task
from tasks.plans import planning
from tasks.plans.defaults import usual_day
from tasks.plans.planning import Seen
from tests.access.scene import Scene
from tests.assessment.builders import looked
from tests.tasks.builders import gone_out
from tests.village import Village


def states_scene() -> Scene:
    """Set today's usual day on halving, and let the teacher have answered the earlier work."""
    scene = Scene.build()
    village = scene.village
    DayPlan.objects.filter(date=village.school.today()).delete()  # the scene may plan it as well
    scene.arguments |= {"date": set_today(village), "cal": village.cal.pk}
    own = Task.objects.filter(day_plan__date=scene.arguments["date"], group=None)
    scene.arguments["task_pk"] = own.get(part="quick_recall").pk
    work = Submission.objects.get(token=scene.arguments["token"])
    looked(work, village.people["teacher"], "Fair shares!")
    return scene


def set_today(village: Village, *parts: str) -> dt.date:
    """Set *parts* (all) of the usual day on halving for today, out by now, and give its date."""
    today = village.school.today()
    plan = DayPlan(school_class=village.robins, date=today, version=0)
    day = usual_day("halving", 10)
    chosen = {part: day[part] for part in parts or day}
    planning.draft_day(plan, chosen, Seen(0, village.people["teacher"]))
    gone_out(DayPlan.objects.get(school_class=village.robins, date=today))
    return today
