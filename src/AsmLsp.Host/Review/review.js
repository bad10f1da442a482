// Steps from doubt to doubt and keeps the ticks; without it the links do the same, and nothing is kept.
// The page is XML as well, so that neither an ampersand nor a less-than sign may be here.
"use strict";
(function () {
  const stops = Array.from(document.querySelectorAll(".stop"));
  const count = document.getElementById("count");
  const place = "relist-review-" + String(document.body.dataset.document);
  let at = -1;

  function box(stop) { return stop.querySelector(".done"); }

  // A browser may keep nothing for pages from a disk, or be set to.
  function load() {
    try { return new Set(JSON.parse(localStorage.getItem(place) || "[]")); } catch (fault) { return new Set(); }
  }

  function save() {
    const done = stops.filter(function (stop) { return box(stop).checked; });
    try {
      localStorage.setItem(place, JSON.stringify(done.map(function (stop) { return stop.dataset.key; })));
    } catch (fault) { /* The ticks stay until the page is left. */ }
  }

  function showCount() {
    if (count === null) return;
    const done = document.querySelectorAll(".done:checked").length;
    const where = at === -1 ? String(stops.length) + " to look at" : String(at + 1) + " of " + String(stops.length);
    count.textContent = where + (done === 0 ? "" : ", " + String(done) + " compared");
  }

  function open(element) {
    for (let box = element.closest("details"); box !== null; box = box.parentElement.closest("details")) box.open = true;
  }

  function show(index) {
    at = (index + stops.length) % stops.length;
    stops.forEach(function (stop, i) { stop.classList.toggle("here", i === at); });
    open(stops[at]);
    const row = stops[at].closest("tr") || stops[at];
    (row.offsetHeight > 0.8 * window.innerHeight ? stops[at] : row).scrollIntoView({ block: "center" });
    stops[at].focus({ preventScroll: true });
    history.replaceState(null, "", "#" + stops[at].id);
    showCount();
  }

  // Whether the address leads to a place of this page.
  function follow() {
    const index = stops.findIndex(function (stop) { return "#" + stop.id === location.hash; });
    const other = document.getElementById(location.hash.slice(1));
    if (index !== -1) {
      show(index);
    } else if (other !== null) {
      open(other);
      other.scrollIntoView({ block: "center" });
    }
    return index !== -1 || other !== null;
  }

  function step(by) {
    show(at === -1 ? (by === 1 ? 0 : stops.length - 1) : at + by);
  }

  function onLink(id, by) {
    document.getElementById(id).addEventListener("click", function (event) {
      event.preventDefault();
      step(by);
    });
  }

  window.addEventListener("hashchange", follow);
  if (stops.length === 0 || count === null) {
    follow();
    return;
  }

  const known = load();
  stops.forEach(function (stop) { box(stop).checked = known.has(stop.dataset.key); });
  onLink("next", 1);
  onLink("previous", -1);
  document.addEventListener("change", function () {
    save();
    showCount();
  });
  document.addEventListener("keydown", function (event) {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    const by = { n: 1, j: 1, p: -1, k: -1 }[event.key];
    if (by === undefined) return;
    event.preventDefault();
    step(by);
  });
  // The first doubt that nobody has compared yet is what the page is opened for.
  // Only when all is laid out: before that the browser moves to the address by itself.
  window.addEventListener("load", function () {
    if (!follow()) show(Math.max(0, stops.findIndex(function (stop) { return !box(stop).checked; })));
  });
})();
