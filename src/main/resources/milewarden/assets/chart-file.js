// A chart as a file that stands by itself: its heading, its legend, the drawing, its caption and the
// page that it is from, in the colours of the moment.
const FACE = 'system-ui, -apple-system, "Segoe UI", "Noto Sans", "DejaVu Sans", sans-serif';
const NAMESPACE = "http://www.w3.org/2000/svg";
const EDGE = 24;
// Another program's face may run wider than the one that was measured here.
const SPARE = 0.92;
const LONGEST = 48;

export function files(place, svg) {
  const tools = document.createElement("div");
  tools.className = "tools";
  tools.append(
    button("Save as SVG", () => save(`${named(place)}.svg`, new Blob([alone(place, svg())], { type: "image/svg+xml" }))),
    button("Save as PNG", () => picture(place, svg())),
  );
  place.after(tools);
  return tools;
}

function button(words, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.textContent = words;
  made.addEventListener("click", act);
  return made;
}

// What the page is about and what the chart shows: two files of a page never have one name.
function named(place) {
  const part = (words) => words.toLowerCase().replace(/[^\p{L}\p{M}\p{N}.]+/gu, "-").slice(0, LONGEST).replace(/^[-.]+|[-.]+$/g, "");
  return `${part(about())}-${part(headingOf(place))}`;
}

function about() {
  const over = document.querySelector(".lead .over");
  return over ? said(over) : document.title.split(" · ")[0];
}

function headingOf(place) {
  const heading = place.closest("figure")?.querySelector("h2, h3");
  return heading ? said(heading) : place.dataset.label;
}

// What is for the page alone (how a drawing is handled) is not printed and not saved.
function said(element) {
  const copy = element.cloneNode(true);
  for (const part of copy.querySelectorAll(".unprinted")) part.remove();
  return copy.textContent.replace(/\s+/g, " ").trim();
}

function alone(place, svg) {
  const box = svg.viewBox.baseVal;
  const figure = place.closest("figure");
  const sheet = element("svg", { xmlns: NAMESPACE, "font-family": FACE, fill: "var(--ink)" });
  const width = Math.ceil(box.width + 2 * EDGE);
  let down = text(sheet, headingOf(place), { size: 18, weight: 600, y: EDGE, width });
  const sentence = figure?.querySelector(":scope > p.says");
  if (sentence) down = text(sheet, said(sentence), { size: 14, y: down + 4, width });
  const legend = figure?.querySelector(".legend");
  if (legend) down = keys(sheet, legend, down + 8, width);
  const drawing = bare(svg);
  for (const [name, value] of Object.entries({ x: EDGE, y: down + 12, width: box.width, height: box.height, overflow: "visible" }))
    drawing.setAttribute(name, value);
  sheet.append(drawing);
  down += 12 + box.height + 12;
  const caption = figure?.querySelector("figcaption");
  if (caption) down = text(sheet, said(caption), { size: 13, fill: "var(--quiet)", y: down, width });
  down = text(sheet, `${about()} · Milewarden`, { size: 13, fill: "var(--quiet)", y: down + 4, width });
  const height = Math.ceil(down + EDGE / 2);
  for (const [name, value] of Object.entries({ width, height, viewBox: `0 0 ${width} ${height}` })) sheet.setAttribute(name, value);
  sheet.prepend(element("rect", { width, height, fill: "var(--paper)" }));
  const style = getComputedStyle(document.documentElement);
  const written = new XMLSerializer().serializeToString(sheet);
  return written.replace(/var\((--[a-z0-9-]+)\)/g, (_, name) => style.getPropertyValue(name).trim());
}

// Without the page's links and stops; what a mark says under the pointer it says in the file too.
function bare(svg) {
  const copy = svg.cloneNode(true);
  for (const name of ["role", "aria-label", "style", "class"]) copy.removeAttribute(name);
  copy.setAttribute("font-size", 13);
  for (const style of copy.querySelectorAll("style")) style.remove();
  for (const link of copy.querySelectorAll("a")) {
    const group = element("g", {});
    for (const { name, value } of link.attributes) if (name !== "href") group.setAttribute(name, value);
    group.append(...link.childNodes);
    link.replaceWith(group);
  }
  for (const mark of copy.querySelectorAll("[data-tip]")) {
    const title = element("title", {});
    title.textContent = mark.dataset.tip;
    mark.prepend(title);
    for (const name of ["data-tip", "aria-label", "tabindex", "role"]) mark.removeAttribute(name);
  }
  return copy;
}

// The keys of the legend, a line as long as the sheet is wide.
function keys(sheet, legend, top, width) {
  let x = EDGE;
  let y = top;
  for (const item of legend.children) {
    const words = said(item);
    const key = item.querySelector("svg");
    const long = (key ? 22 : 0) + measure(words, 13, 400) / SPARE + 20;
    if (x > EDGE && x + long > width - EDGE) {
      x = EDGE;
      y += 20;
    }
    if (key) {
      const copy = key.cloneNode(true);
      for (const [name, value] of Object.entries({ x, y: y + 1, width: 16, height: 16, overflow: "visible" })) copy.setAttribute(name, value);
      sheet.append(copy);
    }
    const line = element("text", { x: x + (key ? 22 : 0), y: y + 14, "font-size": 13, fill: "var(--quiet)" });
    line.textContent = words;
    sheet.append(line);
    x += long;
  }
  return y + 20;
}

// Words in lines that fit the sheet; answers where the next may begin.
function text(sheet, words, { size, y, width, weight = 400, fill = "var(--ink)" }) {
  const most = (width - 2 * EDGE) * SPARE;
  const lines = [];
  for (const word of words.split(" ")) {
    const longer = lines.length ? `${lines[lines.length - 1]} ${word}` : word;
    if (lines.length && measure(longer, size, weight) <= most) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  const step = Math.round(size * 1.4);
  for (const [i, line] of lines.entries()) {
    const made = element("text", { x: EDGE, y: y + size + i * step, "font-size": size, "font-weight": weight, fill });
    made.textContent = line;
    sheet.append(made);
  }
  return y + lines.length * step;
}

const ruler = document.createElement("canvas").getContext("2d");
function measure(words, size, weight) {
  ruler.font = `${weight} ${size}px ${FACE}`;
  return ruler.measureText(words).width;
}

function element(name, attributes) {
  const made = document.createElementNS(NAMESPACE, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  return made;
}

function picture(place, svg) {
  const name = named(place);
  const written = alone(place, svg);
  const image = new Image();
  image.onload = () => {
    const canvas = document.createElement("canvas");
    canvas.width = 2 * image.width;
    canvas.height = 2 * image.height;
    canvas.getContext("2d").drawImage(image, 0, 0, canvas.width, canvas.height);
    canvas.toBlob((blob) => save(`${name}.png`, blob));
  };
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(written)}`;
}

function save(name, blob) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  URL.revokeObjectURL(link.href);
}
