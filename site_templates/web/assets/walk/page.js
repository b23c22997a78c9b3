// Walk and say: shows one step of the route at a time, for the vehicle chosen, and remembers the place.
document.addEventListener("DOMContentLoaded", () => {
  "use strict";
  const place = (id) => document.getElementById(id);
  if (!place("walk")) return;
  const words = JSON.parse(place("walk-data").textContent).words;
  const word = (key, values = {}) =>
    Object.entries(values).reduce((text, [name, value]) => text.replace(`{${name}}`, value), words[key]);
  const kept = window.chockbookKept("chockbook.walk");
  const all = [...document.querySelectorAll(".walk__step[data-step]")];
  const vehicles = place("walk-vehicle"), stations = place("walk-station"), hide = place("walk-hide");
  const held = kept.read() || {};
  let steps = [];
  let at = 0;
  let shown = false;

  const stationOf = (step) => step.closest(".walk__station");
  const placesOf = (list) => [...new Set(list.map(stationOf))];

  // The steps of the vehicle, and its stations to choose from. The place stays if the vehicle has the step.
  function choose(stepId) {
    const unit = vehicles.value;
    steps = all.filter((step) => step.dataset.units.split(" ").includes(unit));
    stations.replaceChildren(
      ...placesOf(steps).map((one) =>
        Object.assign(document.createElement("option"), {
          value: one.dataset.station,
          textContent: one.querySelector(".walk__station-name").textContent,
        }),
      ),
    );
    at = Math.max(0, steps.findIndex((step) => step.dataset.step === stepId));
  }

  function show(moveFocus = false) {
    const step = steps[at], station = step && stationOf(step);
    for (const one of all) one.hidden = one !== step;
    for (const one of document.querySelectorAll(".walk__station")) one.hidden = one !== station;
    place("walk-done").hidden = Boolean(step);
    place("walk-back").disabled = at === 0;
    place("walk-next").disabled = !step;
    if (step) {
      const must = step.querySelector(".walk__must");
      if (must) must.hidden = !step.dataset.must.split(" ").includes(vehicles.value);
      stations.value = station.dataset.station;
      step.querySelector(".walk__say").hidden = hide.checked && !shown;
      step.querySelector(".walk__good").hidden = hide.checked && !shown;
      const every = placesOf(steps);
      place("walk-progress").textContent = word("walk-progress", {
        step: at + 1, steps: steps.length, station: every.indexOf(station) + 1, stations: every.length,
      });
    } else {
      place("walk-done-text").textContent = word("walk-done", { steps: steps.length });
      place("walk-progress").textContent = "";
    }
    place("walk-show").hidden = !step || !hide.checked || shown;
    if (moveFocus) (step ? step.querySelector(".walk__item") : place("walk-done-text")).focus();
  }

  function keep() {
    if (kept.works) kept.write({ unit: vehicles.value, step: steps[at] ? steps[at].dataset.step : "", hide: hide.checked });
    place("walk-kept").textContent = word(kept.works ? "walk-kept" : "walk-not-kept");
    place("walk-not-kept").hidden = kept.works;
    place("walk-erase").hidden = !kept.works;
  }

  function go(number, moveFocus = true) {
    at = Math.min(Math.max(number, 0), steps.length);
    shown = false;
    place("walk-erased").textContent = "";
    show(moveFocus);
    keep();
    if (moveFocus) place("walk-progress").scrollIntoView({ block: "start" });
  }

  function reveal() {
    if (place("walk-show").hidden) return;
    shown = true;
    show(true);
  }

  vehicles.addEventListener("change", () => {
    choose(steps[at] && steps[at].dataset.step);
    go(at, false);
  });
  stations.addEventListener("change", () => {
    go(steps.findIndex((step) => stationOf(step).dataset.station === stations.value), false);
  });
  hide.addEventListener("change", () => go(at, false));
  place("walk-next").addEventListener("click", () => go(at + 1));
  place("walk-back").addEventListener("click", () => go(at - 1));
  place("walk-show").addEventListener("click", reveal);
  place("walk-again").addEventListener("click", () => go(0));
  place("walk-erase").addEventListener("click", () => {
    kept.erase();
    hide.checked = false;
    vehicles.selectedIndex = 0;
    choose();
    at = 0;
    shown = false;
    show();
    place("walk-erased").textContent = word("walk-erased");
  });
  document.addEventListener("keydown", (event) => {
    const inField = /^(INPUT|SELECT|TEXTAREA)$/.test(event.target.tagName);
    if (inField || event.ctrlKey || event.altKey || event.metaKey) return;
    if (event.key === "ArrowRight") go(at + 1);
    else if (event.key === "ArrowLeft") go(at - 1);
    else if (event.key.toLowerCase() === "a") reveal();
  });

  if ([...vehicles.options].some((option) => option.value === held.unit)) vehicles.value = held.unit;
  hide.checked = held.hide === true;
  choose(held.step);
  for (const id of ["walk-choose", "walk-progress", "walk-bar", "walk-about"]) place(id).hidden = false;
  place("walk-without-script").hidden = true;
  place("walk").classList.add("walk--one");
  show();
  place("walk-kept").textContent = word(kept.works ? "walk-kept" : "walk-not-kept");
  place("walk-not-kept").hidden = kept.works;
  place("walk-erase").hidden = !kept.works;
});
