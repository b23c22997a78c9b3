"""Recitals of the route and its stations."""

from __future__ import annotations

from itertools import groupby

from ..catalogue import StationRecord
from .recital import Recital
from .recite_entry import recite_limit


def recite_route(page: Recital) -> None:
    """The stations by stage."""
    stations = page.catalogue.stations
    steps = sum(len(station.steps) for station in stations)
    page.word("web-route-lead", steps=steps, stations=len(stations), minutes=_minutes(*stations))
    numbered = list(enumerate(stations, 1))
    for stage, group in groupby(numbered, key=lambda pair: pair[1].stage):
        page.word(f"stage-{stage}")
        for number, station in group:
            page.link(f"{number}. {page.text(station.name)}", f"route/{station.id}.html")
            page.word("web-n-steps", number=len(station.steps))
            _for(page, station)


def recite_station(page: Recital, station_id: str) -> None:
    """A station with its steps, and the way to the next."""
    stations = page.catalogue.stations
    place = next(n for n, one in enumerate(stations) if one.id == station_id)
    station = stations[place]
    page.say(page.reader.word(f"stage-{station.stage}"), page.text(station.begin_when))
    _for(page, station)
    for number, step in enumerate(station.steps, 1 + sum(len(one.steps) for one in stations[:place])):
        if step.caution:
            caution = page.catalogue.caution[step.caution]
            page.word(f"signal-{caution.level}")
            page.say(page.text(caution.hazard), page.text(caution.consequence), page.text(caution.avoid))
        page.say(str(number), page.reader.word(f"act-{step.act}"), page.text(step.do))
        page.say(", ".join(filter(None, [page.names("vehicle", step.vehicles), page.names("fitted", step.fitted)])))
        page.say(page.reader.word("web-good"), page.text(step.good))
        if step.figure:
            recite_limit(page, page.catalogue.limit[step.figure])
        found = [page.catalogue.entry[key] for key in step.finds]
        found = [entry for entry in found if entry.rulings_under(page.rulebook.id)]
        if found:
            page.word("web-finds", number=len(found))
        for entry in found:
            ruling = entry.rulings_under(page.rulebook.id)[0]
            page.mark(ruling.severity)
            page.entry(entry, ruling)
            page.say(page.text(ruling.severity.name))
    if place + 1 < len(stations):
        following = stations[place + 1]
        page.link(page.filled("web-next-station", name=page.text(following.name)), f"route/{following.id}.html")
    else:
        page.link(page.reader.word("web-route-end"), "route.html")


def _for(page: Recital, station: StationRecord) -> None:
    page.word("web-minutes", minutes=_minutes(station))
    page.say(page.names("vehicle", station.vehicles))
    if station.fitted:
        page.say(f"({page.names('fitted', station.fitted)})")


def _minutes(*stations: StationRecord) -> int:
    """Whole minutes, rounded up."""
    seconds = sum(step.seconds for station in stations for step in station.steps)
    return (seconds + 59) // 60
