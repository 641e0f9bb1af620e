// The mean ladder of each release, in the columns of the Model chart: long steps up, short steps down.
/* global d3 */
import { INK, PER_ROAD, QUIET, RULE, canvas, clear, decimalsOf, fitted, hatch, line, mark, series, signed, words } from "./chart-base.js";
import { columns } from "./chart-model.js";

// A step has one look wherever it is drawn; the second with a colour is hatched.
const LOOKS = {
  ends: [0, false],
  line: [1, false],
  backtrack: [2, false],
  weave: [3, false],
  "bend offset": [4, false],
  source: [5, false],
  slope: [1, true],
  "chord and rest": [0, true],
  indication: [2, true],
};
const NARROW = 640;
const LEFT = 56;
const DIGIT = 7;

function fillOf(svg, step) {
  const [colour, hatched] = LOOKS[step] ?? [5, true];
  return hatched ? hatch(svg, series(colour), 45, 5, 1) : series(colour);
}

// Steps of one sign lie one on the other, in the ladder's order.
function stacked(parts) {
  let up = 0;
  let down = 0;
  return parts.map((p) => {
    const size = p.metres * PER_ROAD;
    const from = size >= 0 ? up : down;
    if (size >= 0) up += size;
    else down += size;
    return { ...p, from, to: from + size };
  });
}

export function ladders(data, width, place) {
  const n = data.releases.length;
  const narrow = width < NARROW;
  const step = narrow ? (width - LEFT) / n : columns(width, n);
  // A unit and its firmware, where the column is too narrow for both, stand one above the other.
  const split = data.releases.some((r) => r.length * DIGIT > step - 8 && r.includes(", "));
  const margin = { top: 26, bottom: split ? 60 : 44 };
  const height = (narrow ? 280 : 340) + (split ? 16 : 0);
  const bottom = height - margin.bottom;
  const bars = d3.groups(data.parts, (p) => p.release).map(([release, parts]) => ({ release, parts: stacked(parts) }));
  const all = bars.flatMap((b) => b.parts.flatMap((p) => [p.from, p.to]));
  const y = d3.scaleLinear([Math.min(0, ...all), Math.max(0, ...all)], [bottom - 20, margin.top]).nice(6);
  const svg = canvas(width, height);
  const fills = new Map(data.steps.map((s) => [s, fillOf(svg, s)]));
  const middle = (release) => LEFT + step * (data.releases.indexOf(release) + 0.5);
  const wide = Math.min(92, step * 0.62);
  const end = LEFT + step * n;

  const ticks = y.ticks(6);
  for (const t of ticks) {
    line(svg, LEFT, y(t), end, y(t), RULE);
    words(svg, signed(t, decimalsOf(ticks)), LEFT - 9, y(t) + 4.5, "end", QUIET);
  }
  for (const { release, parts } of bars) {
    const x = middle(release);
    for (const p of parts) {
      const top = Math.min(y(p.from), y(p.to));
      const tall = Math.abs(y(p.from) - y(p.to));
      const g = mark(svg, p.words, null);
      g.append("rect").attr("class", "halo").attr("x", x - wide / 2).attr("y", top).attr("width", wide).attr("height", Math.max(1, tall)).attr("fill", fills.get(p.step)).attr("stroke", "var(--paper)").attr("stroke-width", 1);
      if (!narrow && tall >= 20 && step - wide > 2 * 8 && step >= 140) words(g, p.step, x + wide / 2 + 7, top + tall / 2 + 4.5, "start", QUIET, 12);
    }
    // What the steps come to: the error of the last distance known.
    const sum = d3.sum(parts, (p) => p.metres * PER_ROAD);
    line(svg, x - wide / 2 - 8, y(sum), x + wide / 2 + 8, y(sum), INK, 2.5);
    const total = !narrow && step - wide >= 96 ? [x - wide / 2 - 13, y(sum) + 4.5, "end"] : [x, bottom + (split ? 52 : 36), "middle"];
    if (step >= 40) clear(words(svg, signed(sum, 1), ...total, INK, narrow ? 12 : 13)).attr("font-weight", 600);
  }
  line(svg, LEFT, y(0), end, y(0), INK, 1.25);
  const every = Math.max(1, Math.ceil(44 / step));
  data.releases.forEach((release, i) => {
    if (i % every !== 0) return;
    for (const [row, part] of (split ? release.split(", ") : [release]).entries())
      words(svg, fitted(part, step * every, 7.2), middle(release), bottom + 20 + 16 * row, "middle", INK, narrow ? 12 : 13);
  });
  keys(place, data.steps);
  return svg.node();
}

function keys(place, steps) {
  const keys = place.parentElement.querySelectorAll(".legend.terms .key");
  for (const [i, key] of [...keys].entries()) {
    if (key.firstChild || !steps[i]) continue;
    const svg = d3.select(key).append("svg").attr("aria-hidden", "true");
    svg.append("rect").attr("x", 2).attr("y", 2).attr("width", 12).attr("height", 12).attr("fill", fillOf(svg, steps[i]));
  }
}
