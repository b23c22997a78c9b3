"""The route as the tables have it, read without the code that shows it."""

from __future__ import annotations

import yaml
from projects import SHIPPED


def table(name):
    return yaml.load((SHIPPED / name).read_text(encoding="utf-8"), yaml.CSafeLoader)


def steps_for(vehicles, equipment):
    """Ids of the steps that a unit needs, in route order, worked out from the tables alone."""
    catalogue = table("catalogue.yaml")
    fitted = {one["id"]: set(one.get("fitted", [])) for one in catalogue["components"]}
    defects = {one["id"]: one for one in catalogue["defects"]}
    wanted = []
    for station in table("route.yaml")["stations"]:
        for step in station["steps"]:
            own = set(step.get("vehicles") or station["vehicles"])
            needs = {*station.get("fitted", []), *step.get("fitted", [])}
            found = [defects[key] for key in step.get("finds", [])]
            on_it = [one for one in found if set(one["vehicles"]) & vehicles and fitted[one["component"]] <= equipment]
            draws = bool(vehicles & {"trailer", "converter-dolly"}) or not step.get("towing")
            if own & vehicles and needs <= equipment and draws and (on_it or not found):
                wanted.append(step)
    return wanted
