// The line of a course to be drawn: vertices move by pointer and by keyboard. What is drawn stands as
// text in the form; the server reads that alone, and checks it.
/* global d3 */
import { ACCENT, INK, QUIET, canvas, words } from "./chart-base.js";
import { controls, furniture } from "./chart-plan.js";

const STEP_M = 1;
const FINE_M = 0.1;
const MOST_UNDO = 200;
const metres = new Intl.NumberFormat("en", { minimumFractionDigits: 1, maximumFractionDigits: 1 });

const kept = new WeakMap();

export function editor(data, width, place) {
  const state = kept.get(data) ?? begin(data);
  kept.set(data, state);
  const height = Math.round(Math.max(320, Math.min(640, width * 0.62)));
  const svg = canvas(width, height);
  svg.append("clipPath").attr("id", "editor-sheet").append("rect").attr("width", width).attr("height", height);
  svg.append("rect").attr("width", width - 1).attr("height", height - 1).attr("x", 0.5).attr("y", 0.5).attr("fill", "var(--raised)").attr("stroke", "var(--rule)");
  const sheet = svg.append("g").attr("clip-path", "url(#editor-sheet)");
  const top = svg.append("g");
  const all = [...data.vertices, ...data.marks.map((m) => m.at)];
  const [west, east] = d3.extent(all, (p) => p[0]);
  const [south, north] = d3.extent(all, (p) => p[1]);
  const pad = 44;
  const scale = Math.min((width - 2 * pad) / Math.max(1, east - west), (height - 2 * pad) / Math.max(1, north - south));
  const x0 = width / 2 - (scale * (west + east)) / 2;
  const y0 = height / 2 + (scale * (south + north)) / 2;
  const view = {
    x: (m) => state.zoom.applyX(x0 + scale * m),
    y: (m) => state.zoom.applyY(y0 - scale * m),
    at: (px, py) => [(state.zoom.invertX(px) - x0) / scale, (y0 - state.zoom.invertY(py)) / scale],
  };
  const redraw = (focus) => {
    draw(sheet, state, data, view, redraw, width);
    furniture(top, width, height, scale * state.zoom.k);
    say(state, data);
    if (focus) sheet.select(`[data-vertex="${state.chosen}"]`).node()?.focus({ preventScroll: true });
  };
  const zoom = d3.zoom().scaleExtent([1, 200]).translateExtent([[-width, -height], [2 * width, 2 * height]]).on("zoom", (event) => {
    state.zoom = event.transform;
    redraw(false);
  });
  // The wheel scrolls the page; with a key held it zooms.
  zoom.filter((event) => (event.type === "wheel" ? event.ctrlKey || event.metaKey : !event.button));
  svg.call(zoom).attr("style", "touch-action: pan-y").on("dblclick.zoom", null);
  svg.property("__zoom", state.zoom);
  redraw(false);
  if (state.vertices) {
    controls(place, svg, zoom, [
      ["Next vertex", () => { choose(state, 1); redraw(true); }],
      ["Vertex before", () => { choose(state, -1); redraw(true); }],
      ["Add a vertex", () => { split(state, data); redraw(true); }],
      ["Take it out", () => { drop(state, data); redraw(true); }],
      ["Undo", () => { undo(state); redraw(true); }],
    ]);
  } else controls(place, svg, zoom);
  return svg.node();
}

// The form's text is the truth. Where it can't be told apart into the drawing's points it is left alone.
function begin(data) {
  const field = document.getElementById("vertices");
  const lines = field.value.split("\n").map((l) => l.trim()).filter((l) => l !== "");
  if (data.closed && lines.length === data.vertices.length + 1) lines.pop();
  const fits = lines.length === data.vertices.length;
  // A line that was sent and refused is drawn as it was sent.
  const drawn = (line, p) => /^m (-?[\d.]+) (-?[\d.]+)$/.exec(line)?.slice(1).map(Number) ?? p;
  const vertices = fits ? data.vertices.map((p, i) => ({ x: drawn(lines[i], p)[0], y: drawn(lines[i], p)[1], text: lines[i] })) : null;
  return { field, vertices, chosen: 0, undo: [], zoom: d3.zoomIdentity };
}

function draw(sheet, state, data, view, redraw, width) {
  sheet.selectAll("*").remove();
  const points = state.vertices ?? data.vertices.map((p) => ({ x: p[0], y: p[1] }));
  const n = points.length;
  const ring = data.closed ? [...points, points[0]] : points;
  const path = d3.line((p) => view.x(p.x), (p) => view.y(p.y))(ring);
  sheet.append("path").attr("d", path).attr("fill", "none").attr("stroke", QUIET).attr("stroke-width", 7).attr("stroke-linejoin", "round").attr("stroke-opacity", 0.6);
  sheet.append("path").attr("d", path).attr("fill", "none").attr("stroke", "var(--raised)").attr("stroke-width", 4.6).attr("stroke-linejoin", "round");
  for (const m of data.marks) {
    const at = [view.x(m.at[0]), view.y(m.at[1])];
    const g = sheet.append("g").attr("pointer-events", "none");
    g.append("circle").attr("cx", at[0]).attr("cy", at[1]).attr("r", 9).attr("fill", "none").attr("stroke", INK).attr("stroke-width", 1.5);
    const left = at[0] > width - 90;
    words(g, m.name, at[0] + (left ? -13 : 13), at[1] - 9, left ? "end" : "start", INK, 12).attr("stroke", "var(--raised)").attr("stroke-width", 4).attr("paint-order", "stroke");
  }
  if (!state.vertices) return;
  for (let i = 0; i + 1 < ring.length; i++) {
    sheet.append("line").attr("class", "stretch").attr("x1", view.x(ring[i].x)).attr("y1", view.y(ring[i].y)).attr("x2", view.x(ring[i + 1].x)).attr("y2", view.y(ring[i + 1].y))
      .attr("stroke", "transparent").attr("stroke-width", 18).style("cursor", "copy")
      .on("click", (event) => {
        const [px, py] = d3.pointer(event, sheet.node());
        const [x, y] = view.at(px, py);
        change(state, () => {
          state.vertices.splice(i + 1, 0, moved({ x, y }));
          state.chosen = i + 1;
        });
        redraw(true);
      });
  }
  // Where vertices stand close together small marks leave the line to be seen.
  const spacing = d3.median(d3.pairs(ring, (a, b) => Math.hypot(view.x(b.x) - view.x(a.x), view.y(b.y) - view.y(a.y))));
  state.radius = Math.max(1.5, Math.min(4, spacing / 3));
  points.forEach((p, i) => handle(sheet, state, p, i, n, view, redraw, data));
}

function handle(sheet, state, p, i, n, view, redraw, data) {
  const chosen = i === state.chosen;
  const name = `Vertex ${i + 1} of ${n}, ${metres.format(p.x)} m east, ${metres.format(p.y)} m north`;
  const g = sheet.append("g").attr("data-vertex", i).attr("tabindex", chosen ? 0 : -1).attr("role", "button").attr("aria-label", name).attr("data-tip", name).style("cursor", "move");
  const place = () => g.attr("transform", `translate(${view.x(p.x)},${view.y(p.y)})`);
  place();
  g.append("circle").attr("r", 12).attr("fill", "transparent");
  g.append("circle").attr("class", "halo").attr("r", chosen ? 6 : state.radius).attr("fill", chosen ? ACCENT : "var(--raised)").attr("stroke", ACCENT).attr("stroke-width", 1.75);
  const once = d3.drag().container(sheet.node()).on("start", () => {
    remember(state);
    state.chosen = i;
  }).on("drag", (event) => {
    const [x, y] = view.at(event.x, event.y);
    Object.assign(p, moved({ x, y }));
    place();
    say(state, data);
  }).on("end", () => {
    write(state);
    redraw(true);
  }).subject(() => ({ x: view.x(p.x), y: view.y(p.y) }));
  g.call(once).on("keydown", (event) => key(event, state, redraw, data));
}

function key(event, state, redraw, data) {
  const step = event.shiftKey ? FINE_M : STEP_M;
  const by = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, step], ArrowDown: [0, -step] }[event.key];
  if (by) {
    change(state, () => {
      const p = state.vertices[state.chosen];
      Object.assign(p, moved({ x: p.x + by[0], y: p.y + by[1] }));
    });
  } else if (event.key === "PageDown") choose(state, 1);
  else if (event.key === "PageUp") choose(state, -1);
  else if (event.key === "Insert") split(state, data);
  else if (event.key === "Delete") drop(state, data);
  else if (event.key === "z" && (event.ctrlKey || event.metaKey)) undo(state);
  else return;
  event.preventDefault();
  redraw(true);
}

function choose(state, by) {
  const n = state.vertices.length;
  state.chosen = (state.chosen + by + n) % n;
}

// Half way to the next vertex; behind the last one of an open line, half way back.
function split(state, data) {
  const n = state.vertices.length;
  const here = state.vertices[state.chosen];
  const last = !data.closed && state.chosen === n - 1;
  const other = last ? state.vertices[state.chosen - 1] : state.vertices[(state.chosen + 1) % n];
  const at = last ? state.chosen : state.chosen + 1;
  change(state, () => {
    state.vertices.splice(at, 0, moved({ x: (here.x + other.x) / 2, y: (here.y + other.y) / 2 }));
    state.chosen = at;
  });
}

function drop(state, data) {
  if (state.vertices.length <= (data.closed ? 3 : 2)) return;
  change(state, () => {
    state.vertices.splice(state.chosen, 1);
    state.chosen = Math.min(state.chosen, state.vertices.length - 1);
  });
}

function moved(p) {
  return { x: p.x, y: p.y, text: `m ${p.x.toFixed(3)} ${p.y.toFixed(3)}` };
}

function remember(state) {
  state.undo.push({ vertices: state.vertices.map((p) => ({ ...p })), chosen: state.chosen });
  if (state.undo.length > MOST_UNDO) state.undo.shift();
}

function change(state, act) {
  remember(state);
  act();
  write(state);
}

function undo(state) {
  const before = state.undo.pop();
  if (!before) return;
  Object.assign(state, { vertices: before.vertices, chosen: before.chosen });
  write(state);
}

function write(state) {
  state.field.value = state.vertices.map((p) => p.text).join("\n");
}

function say(state, data) {
  const place = document.getElementById("line-length");
  if (!state.vertices) {
    place.textContent = "The text below can't be drawn yet. Mend it there and check it.";
    return;
  }
  const ring = data.closed ? [...state.vertices, state.vertices[0]] : state.vertices;
  const drawn = d3.sum(d3.pairs(ring, (a, b) => Math.hypot(b.x - a.x, b.y - a.y)));
  const apart = 100 * (drawn / data.wantedM - 1);
  const percent = Math.abs(apart).toFixed(2);
  // What rounds to nothing has no sign.
  const sign = Number(percent) === 0 ? "" : apart < 0 ? "\u2212" : "+";
  const refused = Math.abs(apart) > data.refusedPercent;
  place.classList.toggle("problem", refused);
  place.textContent = `Drawn ${metres.format(drawn)} m, measured ${metres.format(data.wantedM)} m: ${sign}${percent} %` + (refused ? `. Beyond ${data.refusedPercent} % the line is refused.` : "");
}
