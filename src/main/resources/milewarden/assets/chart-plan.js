// The plan in metres: paper, the line as a double rule, marks as ringed dots, tracks over it.
/* global d3 */
import { GROUND, INK, QUIET, canvas, line, number, series, words } from "./chart-base.js";

// From this zoom on each fix is seen, with the hairline to its place on the line.
const CLOSE = 4;
// What lies within so many pixels of a drawn track is left out of it: while it moves, and at rest.
const MOVING = 2;
const RESTING = 0.25;
// So many fixes of those in sight are drawn one by one.
const MOST_MOVING = 1000;
const MOST_RESTING = 4000;
const REST_MS = 120;
// A pointer so near to a fix means it.
const NEAR = 12;
// North and the scale need so much height.
const LEAST = 220;

export function plan(data, width, place) {
  const all = [...data.line, ...data.tracks.flatMap((t) => t.points)];
  const [west, east] = d3.extent(all, (p) => p[0]);
  const [south, north] = d3.extent(all, (p) => p[1]);
  const pad = 44;
  // No taller than the ground needs: a straight course along the sheet leaves little room empty.
  const needed = ((width - 2 * pad) * (north - south)) / Math.max(1, east - west) + 3 * pad;
  const height = Math.round(Math.max(LEAST, Math.min(needed, Math.max(280, Math.min(560, width * 0.6)))));
  const svg = canvas(width, height);
  const id = `plan-${data.name}`;
  svg.append("clipPath").attr("id", id).append("rect").attr("width", width).attr("height", height);
  svg.append("rect").attr("width", width - 1).attr("height", height - 1).attr("x", 0.5).attr("y", 0.5).attr("fill", "var(--raised)").attr("stroke", "var(--rule)");
  const sheet = svg.append("g").attr("clip-path", `url(#${id})`);
  const scale = Math.min((width - 2 * pad) / Math.max(1, east - west), (height - 2 * pad) / Math.max(1, north - south));
  const x0 = width / 2 - (scale * (west + east)) / 2;
  const y0 = height / 2 + (scale * (south + north)) / 2;

  const rules = [[QUIET, 7, 0.8], ["var(--raised)", 4.6, 1]].map(([stroke, wide, opacity]) => curve(sheet, stroke, wide, opacity));
  const tracks = data.tracks.map((track, i) => ({
    ...track,
    weights: weights(track.points),
    offsets: curve(sheet, series(i), 0.75, 1),
    way: curve(sheet, series(i), 1.75, 0.7),
    // A line of no length with round ends is a dot.
    fixes: curve(sheet, series(i), 4, 1).attr("stroke-linecap", "round"),
  }));
  const marks = sheet.append("g");
  const here = sheet.append("circle").attr("class", "fix").attr("pointer-events", "none").attr("r", 5).attr("fill", "none").attr("stroke", INK).attr("stroke-width", 1.5).attr("display", "none");
  const top = svg.append("g");
  const view = { left: -20, top: -20, right: width + 20, bottom: height + 20 };

  let shown = d3.zoomIdentity;
  const look = (t) => ({ k: t.k * scale, x: t.applyX(x0), y: t.applyY(y0) });
  const redraw = (t, tolerance) => {
    shown = t;
    const at = look(t);
    const moving = tolerance === MOVING;
    // A thin line without smoothed edges takes a tenth of the time.
    sheet.attr("shape-rendering", moving ? "optimizeSpeed" : null);
    const near = t.k >= CLOSE && insight(tracks, at, view) <= (moving ? MOST_MOVING : MOST_RESTING);
    for (const rule of rules) rule.attr("d", path(data.line, at, view));
    for (const track of tracks) {
      track.way.attr("stroke-width", moving ? 1 : 1.75).attr("d", path(track.points, at, view, track.weights, tolerance / at.k));
      track.fixes.attr("d", near ? dots(track.points, at, view) : null);
      track.offsets.attr("d", near ? hairs(track, at, view) : null);
    }
    nails(marks, data.marks, at, width);
    furniture(top, width, height, at.k);
  };
  const soon = settled(redraw);
  const zoom = d3.zoom().scaleExtent([1, 60]).translateExtent([[0, 0], [width, height]]).on("zoom", (event) => {
    quiet(here);
    soon(event.transform);
  });
  // The wheel scrolls the page; with a key held it zooms.
  zoom.filter((event) => (event.type === "wheel" ? event.ctrlKey || event.metaKey : !event.button));
  svg.call(zoom).attr("style", "touch-action: pan-y");
  svg.on("pointermove", (event) => {
    if (shown.k >= CLOSE && event.buttons === 0) point(here, tracks, look(shown), d3.pointer(event, svg.node()));
  });
  svg.on("pointerleave", () => quiet(here));
  redraw(d3.zoomIdentity, RESTING);
  controls(place, svg, zoom);
  for (const [i, key] of [...document.querySelectorAll(".legend.units .key")].entries()) {
    if (key.firstChild) continue;
    const sample = d3.select(key).append("svg");
    line(sample, 0, 8, 16, 8, series(i), 3);
  }
  return svg.node();
}

function curve(parent, stroke, wide, opacity) {
  return parent.append("path").attr("fill", "none").attr("stroke", stroke).attr("stroke-width", wide).attr("stroke-opacity", opacity).attr("stroke-linejoin", "bevel").attr("pointer-events", "none");
}

// Once a frame, coarsely; finely when nothing has moved for a moment.
function settled(redraw) {
  let wanted = null;
  let frame = 0;
  let rest = 0;
  return (t) => {
    wanted = t;
    clearTimeout(rest);
    frame ||= requestAnimationFrame(() => {
      frame = 0;
      redraw(wanted, MOVING);
      // Begun here: where a frame is late, it must not undo the fine drawing.
      rest = setTimeout(() => redraw(wanted, RESTING), REST_MS);
    });
  };
}

// How far, in metres, each point lies off the line that would be drawn without it (Douglas and
// Peucker 1973, all tolerances at once): never more than that of the points it lies between.
function weights(points) {
  const found = new Float64Array(points.length).fill(Infinity);
  const open = [[0, points.length - 1, Infinity]];
  while (open.length > 0) {
    const [a, b, most] = open.pop();
    if (b - a < 2) continue;
    const [ax, ay] = points[a];
    const dx = points[b][0] - ax;
    const dy = points[b][1] - ay;
    const square = dx * dx + dy * dy;
    let far = a + 1;
    let farthest = -1;
    for (let i = a + 1; i < b; i++) {
      const px = points[i][0] - ax;
      const py = points[i][1] - ay;
      const along = square === 0 ? 0 : Math.max(0, Math.min(1, (px * dx + py * dy) / square));
      const ex = px - along * dx;
      const ey = py - along * dy;
      const off = ex * ex + ey * ey;
      if (off > farthest) [far, farthest] = [i, off];
    }
    const weight = Math.min(most, Math.sqrt(farthest));
    found[far] = weight;
    open.push([a, far, weight], [far, b, weight]);
  }
  return found;
}

// The part of a line that can be seen, without the points that would not change it by the tolerance.
function path(points, at, view, weight = null, tolerance = 0) {
  const parts = [];
  let before = null;
  let drawn = false;
  for (let i = 0; i < points.length; i++) {
    if (weight && weight[i] < tolerance) continue;
    const x = at.x + at.k * points[i][0];
    const y = at.y - at.k * points[i][1];
    if (before && !apart(before, x, y, view)) {
      if (!drawn) parts.push("M", before[0].toFixed(1), " ", before[1].toFixed(1));
      parts.push("L", x.toFixed(1), " ", y.toFixed(1));
      drawn = true;
    } else drawn = false;
    before = [x, y];
  }
  return parts.join("");
}

// True where a piece lies wholly on one side of what is seen.
function apart([x, y], toX, toY, view) {
  return (x < view.left && toX < view.left) || (x > view.right && toX > view.right) || (y < view.top && toY < view.top) || (y > view.bottom && toY > view.bottom);
}

function seen(x, y, view) {
  return x > view.left && x < view.right && y > view.top && y < view.bottom;
}

function insight(tracks, at, view) {
  let count = 0;
  for (const track of tracks)
    for (const [x, y] of track.points) if (seen(at.x + at.k * x, at.y - at.k * y, view)) count++;
  return count;
}

function dots(points, at, view) {
  const parts = [];
  for (const [px, py] of points) {
    const x = at.x + at.k * px;
    const y = at.y - at.k * py;
    if (seen(x, y, view)) parts.push("M", x.toFixed(1), " ", y.toFixed(1), "h0");
  }
  return parts.join("");
}

function hairs(track, at, view) {
  const parts = [];
  track.feet.forEach((foot, i) => {
    const x = at.x + at.k * track.points[i][0];
    const y = at.y - at.k * track.points[i][1];
    if (foot && seen(x, y, view))
      parts.push("M", x.toFixed(1), " ", y.toFixed(1), "L", (at.x + at.k * foot[0]).toFixed(1), " ", (at.y - at.k * foot[1]).toFixed(1));
  });
  return parts.join("");
}

function nails(parent, marks, at, width) {
  const taken = [];
  const each = parent.selectAll("g").data(marks).join((enter) => {
    const g = enter.append("g").attr("tabindex", 0).attr("role", "img").attr("data-tip", (m) => m.words).attr("aria-label", (m) => m.words.replaceAll("\n", ", "));
    g.append("circle").attr("class", "halo").attr("r", 6.5).attr("fill", "var(--raised)").attr("stroke", INK).attr("stroke-width", 1.5);
    g.append("circle").attr("r", 2.2).attr("fill", INK);
    g.append("text").attr("y", -8).attr("fill", INK).attr("font-size", 12).attr("stroke", "var(--raised)").attr("stroke-width", 4).attr("paint-order", "stroke").text((m) => m.name);
    return g;
  });
  each.each(function (m) {
    const x = at.x + at.k * m.at[0];
    const y = at.y - at.k * m.at[1];
    const crowded = taken.some((o) => Math.hypot(o[0] - x, o[1] - y) < 40);
    if (!crowded) taken.push([x, y]);
    const left = x > width - 90;
    d3.select(this).attr("transform", `translate(${x},${y})`).select("text")
      .attr("display", crowded ? "none" : null).attr("x", left ? -11 : 11).attr("text-anchor", left ? "end" : "start");
  });
}

// Of all fixes, drawn or left out, the nearest to the pointer says which it is and how far off.
function point(here, tracks, at, [toX, toY]) {
  let best = NEAR * NEAR;
  let found = null;
  for (const track of tracks)
    for (let i = 0; i < track.points.length; i++) {
      const dx = at.x + at.k * track.points[i][0] - toX;
      const dy = at.y - at.k * track.points[i][1] - toY;
      const square = dx * dx + dy * dy;
      if (square < best) {
        best = square;
        found = { track, i };
      }
    }
  if (!found) return quiet(here);
  const [x, y] = found.track.points[found.i];
  const foot = found.track.feet[found.i];
  const off = foot ? `, ${number(Math.hypot(x - foot[0], y - foot[1]) / GROUND.metres, 1)} ${GROUND.symbol} off the line` : "";
  here.attr("display", null).attr("cx", at.x + at.k * x).attr("cy", at.y - at.k * y)
    .attr("data-tip", `${found.track.name}, fix ${number(found.i + 1)} of ${number(found.track.points.length)}${off}`);
  here.dispatch("pointerover", { bubbles: true });
}

function quiet(here) {
  if (here.attr("display") === "none") return;
  here.attr("display", "none");
  here.dispatch("pointerout", { bubbles: true });
}

export function furniture(top, width, height, pixelsPerMetre) {
  top.selectAll("*").remove();
  const pixels = pixelsPerMetre * GROUND.metres;
  const step = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000].find((n) => n * pixels >= 56) ?? 5000;
  const long = step * pixels;
  const y = height - 18;
  top.append("rect").attr("x", 8).attr("y", y - 24).attr("width", long + 24).attr("height", 36).attr("fill", "var(--raised)").attr("fill-opacity", 0.85);
  top.append("path").attr("d", `M16 ${y - 5}V${y}H${16 + long}V${y - 5}`).attr("fill", "none").attr("stroke", INK).attr("stroke-width", 1.5);
  words(top, `${number(step)} ${GROUND.symbol}`, 16 + long / 2, y - 8, "middle", INK, 12);
  const x = width - 24;
  top.append("path").attr("d", `M${x} 14l6 20l-6-5l-6 5z`).attr("fill", INK);
  words(top, "N", x, 48, "middle", INK, 12);
}

export function controls(place, svg, zoom, more = []) {
  const row = place.nextElementSibling?.matches(".tools") ? place.nextElementSibling : place;
  row.querySelector(".zoom")?.remove();
  const tools = document.createElement("div");
  tools.className = "tools zoom";
  const add = (label, act) => {
    const made = document.createElement("button");
    made.type = "button";
    made.textContent = label;
    made.addEventListener("click", act);
    tools.append(made);
  };
  add("Closer", () => svg.call(zoom.scaleBy, 2));
  add("Further", () => svg.call(zoom.scaleBy, 0.5));
  add("Whole course", () => svg.call(zoom.transform, d3.zoomIdentity));
  for (const [label, act] of more) add(label, act);
  row.prepend(tools);
}
