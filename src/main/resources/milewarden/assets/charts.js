// Draws every chart of a page from the data that stands in it. The table beside each chart says the
// same without a script; this adds the drawing, what a mark says under pointer or focus, and files.
import { model } from "./chart-model.js";
import { ladders } from "./chart-ladders.js";
import { ladder, excess, offset, epochs, speed, strip, cusum } from "./chart-run.js";
import { plan } from "./chart-plan.js";
import { editor } from "./chart-editor.js";
import { forest } from "./chart-forest.js";
import { headtohead } from "./chart-headtohead.js";
import { files } from "./chart-file.js";

const KINDS = { model, ladder, ladders, excess, offset, epochs, speed, plan, forest, headtohead, strip, cusum, editor };

const SMALLEST = 160;

// A chart is one stop of the Tab key; the arrows go from mark to mark. A plan has few marks, each its
// own stop, and the editor its own keys.
const OWN_KEYS = ["plan", "editor"];

const holder = document.getElementById("chart-data");
const data = holder ? JSON.parse(holder.textContent) : {};

for (const place of document.querySelectorAll("[data-chart]")) {
  const its = data[place.dataset.chart];
  const draw = KINDS[place.dataset.kind];
  if (draw && its) mount(place, its, draw, data);
  else if (draw) failed(place, new Error("no data"));
}

function mount(place, its, draw, all) {
  place.hidden = false;
  const tip = document.createElement("div");
  tip.className = "tip";
  tip.hidden = true;
  let width = 0;
  let svg = null;
  const again = () => {
    const now = Math.floor(place.clientWidth);
    // Before the page is laid out a place may have next to no width: nothing can be drawn in it.
    if (now < SMALLEST || now === width) return;
    width = now;
    let fresh;
    try {
      fresh = draw(its, width, place, all);
    } catch (error) {
      failed(place, error);
      svg = null;
      tools.hidden = true;
      return;
    }
    place.querySelector(".failed")?.remove();
    tools.hidden = false;
    fresh.setAttribute("role", "group");
    fresh.setAttribute("aria-label", place.dataset.label);
    reach(place, fresh);
    if (svg) svg.replaceWith(fresh);
    else place.prepend(fresh);
    svg = fresh;
    tip.hidden = true;
  };
  const tools = files(place, () => svg);
  again();
  // On a telephone a long table would stand between a reader and the next drawing.
  if (svg && innerWidth < 720)
    for (const twin of place.parentElement.querySelectorAll("details.twin[open]")) twin.open = false;
  document.addEventListener("chartdata", (event) => {
    its = event.detail[place.dataset.chart] ?? its;
    all = event.detail;
    width = 0;
    again();
  });
  place.append(tip);
  new ResizeObserver(again).observe(place);
  tell(place, tip);
}

// One chart that can't be drawn takes nothing else with it: the words and the table stay.
function failed(place, error) {
  console.warn(`the chart ${place.dataset.chart} could not be drawn: ${error.message}`);
  place.querySelector("svg")?.remove();
  if (place.querySelector(".failed")) return;
  const twin = place.parentElement.querySelector("details.twin");
  const note = document.createElement("p");
  note.className = "note watch failed";
  note.setAttribute("role", "status");
  note.textContent = twin
    ? "This drawing could not be made. The table below says the same."
    : "This drawing could not be made. The page's data say the same: see its end.";
  place.prepend(note);
  if (twin) twin.open = true;
}

function reach(place, svg) {
  if (OWN_KEYS.includes(place.dataset.kind)) return;
  const marks = [...svg.querySelectorAll("[data-tip]")];
  marks.forEach((m, i) => m.setAttribute("tabindex", i === 0 ? 0 : -1));
  if (marks.length > 1)
    svg.setAttribute("aria-label", `${place.dataset.label}. The arrow keys go from mark to mark.`);
  svg.addEventListener("keydown", (event) => {
    const at = marks.indexOf(event.target.closest("[data-tip]"));
    const to = { ArrowRight: at + 1, ArrowDown: at + 1, ArrowLeft: at - 1, ArrowUp: at - 1, Home: 0, End: marks.length - 1 }[event.key];
    if (at < 0 || to === undefined) return;
    event.preventDefault();
    const next = marks[Math.max(0, Math.min(marks.length - 1, to))];
    marks[at].setAttribute("tabindex", -1);
    next.setAttribute("tabindex", 0);
    next.focus();
  });
}

function tell(place, tip) {
  const show = (event) => {
    const mark = event.target.closest?.("[data-tip]");
    if (!mark || !place.contains(mark)) return;
    tip.textContent = mark.dataset.tip;
    tip.hidden = false;
    const box = place.getBoundingClientRect();
    const at = mark.getBoundingClientRect();
    const middle = at.left + at.width / 2 - box.left;
    const half = tip.offsetWidth / 2;
    const left = Math.max(0, Math.min(box.width - 2 * half, middle - half));
    const above = at.top - box.top - tip.offsetHeight - 8;
    tip.style.left = `${left}px`;
    tip.style.top = `${above < -48 ? at.bottom - box.top + 8 : above}px`;
  };
  const hide = () => (tip.hidden = true);
  place.addEventListener("pointerover", show);
  place.addEventListener("focusin", show);
  // What the keyboard stands on goes on telling when a pointer passes by.
  place.addEventListener("pointerout", () => {
    const stood = place.querySelector("[data-tip]:focus");
    if (stood) show({ target: stood });
    else hide();
  });
  place.addEventListener("focusout", hide);
  place.addEventListener("keydown", (event) => {
    if (event.key === "Escape") hide();
  });
}
