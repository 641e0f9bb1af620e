// The plan in metres: paper, the line as a double rule, marks as ringed dots, tracks over it.
/* global d3 */
import { GROUND, INK, PAPER, QUIET, canvas, line, mark, number, series, words } from "./chart-base.js";

export function plan(data, width, place) {
  const height = Math.round(Math.max(280, Math.min(560, width * 0.6)));
  const svg = canvas(width, height);
  const id = `plan-${data.name}`;
  svg.append("clipPath").attr("id", id).append("rect").attr("width", width).attr("height", height);
  svg.append("rect").attr("width", width - 1).attr("height", height - 1).attr("x", 0.5).attr("y", 0.5).attr("fill", "var(--raised)").attr("stroke", "var(--rule)");
  const sheet = svg.append("g").attr("clip-path", `url(#${id})`);
  const all = [...data.line, ...data.tracks.flatMap((t) => t.points)];
  const [west, east] = d3.extent(all, (p) => p[0]);
  const [south, north] = d3.extent(all, (p) => p[1]);
  const pad = 44;
  const scale = Math.min((width - 2 * pad) / Math.max(1, east - west), (height - 2 * pad) / Math.max(1, north - south));
  const x0 = width / 2 - (scale * (west + east)) / 2;
  const y0 = height / 2 + (scale * (south + north)) / 2;
  const top = svg.append("g");

  const redraw = (t) => {
    const x = (p) => t.applyX(x0 + scale * p[0]);
    const y = (p) => t.applyY(y0 - scale * p[1]);
    const path = d3.line(x, y);
    sheet.selectAll("*").remove();
    sheet.append("path").attr("d", path(data.line)).attr("fill", "none").attr("stroke", QUIET).attr("stroke-width", 7).attr("stroke-linejoin", "round").attr("stroke-opacity", 0.8);
    sheet.append("path").attr("d", path(data.line)).attr("fill", "none").attr("stroke", "var(--raised)").attr("stroke-width", 4.6).attr("stroke-linejoin", "round");
    data.tracks.forEach((track, i) => {
      if (t.k >= 4)
        for (const [p, foot] of d3.zip(track.points, track.feet))
          if (foot) line(sheet, x(p), y(p), x(foot), y(foot), series(i), 0.75);
      sheet.append("path").attr("d", path(track.points)).attr("fill", "none").attr("stroke", series(i)).attr("stroke-width", 1.75).attr("stroke-opacity", 0.7).attr("stroke-linejoin", "round");
      if (t.k >= 4) for (const p of track.points) sheet.append("circle").attr("cx", x(p)).attr("cy", y(p)).attr("r", 2).attr("fill", series(i));
    });
    const taken = [];
    for (const m of data.marks) {
      const g = mark(sheet, m.words, null);
      const at = [x(m.at), y(m.at)];
      g.append("circle").attr("class", "halo").attr("cx", at[0]).attr("cy", at[1]).attr("r", 6.5).attr("fill", "var(--raised)").attr("stroke", INK).attr("stroke-width", 1.5);
      g.append("circle").attr("cx", at[0]).attr("cy", at[1]).attr("r", 2.2).attr("fill", INK);
      if (taken.some((o) => Math.hypot(o[0] - at[0], o[1] - at[1]) < 40)) continue;
      taken.push(at);
      const left = at[0] > width - 90;
      words(g, m.name, at[0] + (left ? -11 : 11), at[1] - 8, left ? "end" : "start", INK, 12)
        .attr("stroke", "var(--raised)").attr("stroke-width", 4).attr("paint-order", "stroke");
    }
    furniture(top, width, height, scale * t.k);
  };
  const zoom = d3.zoom().scaleExtent([1, 60]).translateExtent([[0, 0], [width, height]]).on("zoom", (event) => redraw(event.transform));
  // The wheel scrolls the page; with a key held it zooms.
  zoom.filter((event) => (event.type === "wheel" ? event.ctrlKey || event.metaKey : !event.button));
  svg.call(zoom).attr("style", "touch-action: pan-y");
  redraw(d3.zoomIdentity);
  controls(place, svg, zoom);
  for (const [i, key] of [...document.querySelectorAll(".legend.units .key")].entries()) {
    if (key.firstChild) continue;
    const sample = d3.select(key).append("svg");
    line(sample, 0, 8, 16, 8, series(i), 3);
  }
  return svg.node();
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
