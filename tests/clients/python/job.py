"""The main job through the generated Python client: from signing in to the sheet after the dig."""

import json
import os
from datetime import UTC, datetime
from typing import TypeVar
from uuid import UUID

from dibble_client import AuthenticatedClient, Client, models as m
from dibble_client.api.adjustments import accept_adjustment, get_adjustment
from dibble_client.api.calibrations import create_calibration
from dibble_client.api.conditions import create_conditions_report
from dibble_client.api.dig_checks import create_dig_check
from dibble_client.api.farms import create_farm
from dibble_client.api.fields import create_field
from dibble_client.api.growers import create_grower
from dibble_client.api.planters import create_planter
from dibble_client.api.recommendations import acknowledge_recommendation, create_recommendation
from dibble_client.api.recommendations import get_recommendation, issue_recommendation
from dibble_client.api.sessions import create_session

T = TypeVar("T")


def got(kind: type[T], answer: object) -> T:
    assert isinstance(answer, kind), answer
    return answer


job = json.load(open("tests/clients/job.json"))
url, now = os.environ["DIBBLE_URL"], datetime.now(UTC)
who = m.SignIn(email=os.environ["DIBBLE_EMAIL"], password=os.environ["DIBBLE_PASSWORD"])
session = got(m.Session, create_session.sync(client=Client(url), body=who))
c = AuthenticatedClient(url, session.access_token)
grower = got(m.Grower, create_grower.sync(client=c, body=m.GrowerIn("Served by Python")))
farm = got(m.Farm, create_farm.sync(client=c, body=m.FarmIn(grower.id, "Home farm")))
field = got(m.Field, create_field.sync(client=c, body=m.FieldIn(farm.id, "North forty")))
made_up = m.PlanterIn(grower.id, m.Makeup.from_dict(job["makeup"]), "The eight-row")
planter = got(m.Planter, create_planter.sync(client=c, body=made_up))
bags = m.CalibrationIn(now.date(), [m.CalibrationPoint.from_dict(p) for p in job["points"]])
got(m.Calibration, create_calibration.sync(planter.id, client=c, body=bags))
seen = m.ConditionsIn.from_dict({**job["conditions"], "observed_at": now.isoformat()})
got(m.ConditionsReport, create_conditions_report.sync(field.id, client=c, body=seen))
wanted = m.RecommendationIn(field.id, planter.id, goals=m.GoalsIn.from_dict(job["goals"]))
sheet = got(m.Recommendation, create_recommendation.sync(client=c, body=wanted))
force = got(m.Quantity, sheet.settings.down_force.per_row)
assert force.unit == "[lbf_av]" and 0 < force.value < 1000, force
for step in (issue_recommendation, acknowledge_recommendation):
    sheet = got(m.Recommendation, step.sync(sheet.id, client=c, if_match=f'"{sheet.version}"'))
assert sheet.status == m.RecommendationStatus.ACKNOWLEDGED, sheet.status
dig = m.DigCheckIn.from_dict({**job["dig"], "dug_at": datetime.now(UTC).isoformat()})
check = got(m.DigCheck, create_dig_check.sync(sheet.id, client=c, body=dig))
assert check.findings[0].reading, check
change = got(m.Adjustment, get_adjustment.sync(got(UUID, check.adjustment_id), client=c))
accept, tag = m.AcceptIn(issue=True), f'"{change.version}"'
change = got(m.Adjustment, accept_adjustment.sync(change.id, client=c, body=accept, if_match=tag))
new = got(m.Recommendation, get_recommendation.sync(got(UUID, change.next_recommendation_id), client=c))
more = got(m.Quantity, new.settings.down_force.per_row)
assert new.revision == sheet.revision + 1 and more.unit == force.unit and more.value > force.value
print(f"Python: {force.value} lbf, dug: {check.findings[0].reading}; now {more.value} lbf")
