// Steps from doubt to doubt; without it the links do the same.
"use strict";
(function () {
  const stops = Array.from(document.querySelectorAll(".stop"));
  const count = document.getElementById("count");
  if (stops.length === 0 || count === null) return;
  let at = -1;

  function tell() {
    const done = document.querySelectorAll(".done:checked").length;
    const place = at === -1 ? String(stops.length) + " to look at" : String(at + 1) + " of " + String(stops.length);
    count.textContent = place + (done === 0 ? "" : ", " + String(done) + " compared");
  }

  function show(index) {
    at = (index + stops.length) % stops.length;
    stops.forEach(function (stop, i) { stop.classList.toggle("here", i === at); });
    stops[at].scrollIntoView({ block: "center" });
    stops[at].focus({ preventScroll: true });
    history.replaceState(null, "", "#" + stops[at].id);
    tell();
  }

  function follow() {
    const index = stops.findIndex(function (stop) { return "#" + stop.id === location.hash; });
    if (index !== -1) show(index);
  }

  function onLink(id, step) {
    document.getElementById(id).addEventListener("click", function (event) {
      event.preventDefault();
      show(at === -1 ? (step === 1 ? 0 : stops.length - 1) : at + step);
    });
  }

  onLink("next", 1);
  onLink("previous", -1);
  window.addEventListener("hashchange", follow);
  document.addEventListener("change", tell);
  document.addEventListener("keydown", function (event) {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    const step = { n: 1, j: 1, p: -1, k: -1 }[event.key];
    if (step === undefined) return;
    event.preventDefault();
    show(at === -1 ? (step === 1 ? 0 : stops.length - 1) : at + step);
  });
  follow();
})();
