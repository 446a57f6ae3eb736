// Draw over a photo: rings, arrows, ticks, lines and numbers, kept in the form beside the reply.
// Places are thousandths of the picture's width, as drawing/strokes.py keeps and outlines them.
const SVG = "http://www.w3.org/2000/svg";
const HEAD = 45;
const HEAD_ANGLE = 0.5;
const NEAR = 12; // of a line, places nearer to the last one are left out
const PRESSED = 25; // a pointer that moved less than this was pressed, not dragged
const USUAL = { ring: 80, tick: 50, arrow: 120 };
const MOST = 60;
const LONGEST_LINE = 400;
let picture = null; // {name, box, src} of what is drawn on
let stroke = null; // what is being drawn
let start = null;

const field = () => document.querySelector("[data-look] [name=strokes]");
const dialog = () => document.querySelector("[data-draw]");
const half = (number) => Math.trunc(number / 2);

function all() {
  return JSON.parse(field().value || "{}") ?? {};
}

function keep(strokes) {
  const kept = { ...all(), [picture.name]: strokes };
  if (!strokes.length) delete kept[picture.name];
  field().value = JSON.stringify(kept);
  field().dispatchEvent(new Event("input", { bubbles: true }));
}

function outline([shape, ...numbers]) {
  if (shape === "line") {
    const places = [];
    for (let at = 0; at < numbers.length; at += 2) places.push(`${numbers[at]} ${numbers[at + 1]}`);
    return `M${places.join("L")}`;
  }
  const [x, y, toX, toY] = numbers;
  if (shape === "ring") {
    const across = half(toX - x);
    const down = half(toY - y);
    const around = `a${across} ${down} 0 1 0`;
    return `M${x} ${y + down}${around} ${2 * across} 0${around} ${-2 * across} 0`;
  }
  if (shape === "tick") {
    return `M${x} ${y + half(toY - y)}L${x + Math.trunc((toX - x) / 3)} ${toY}L${toX} ${y}`;
  }
  const angle = Math.atan2(toY - y, toX - x);
  const [one, other] = [-HEAD_ANGLE, HEAD_ANGLE].map((turn) => {
    const end = angle + turn;
    return `${Math.round(toX - HEAD * Math.cos(end))} ${Math.round(toY - HEAD * Math.sin(end))}`;
  });
  return `M${x} ${y}L${toX} ${toY}M${one}L${toX} ${toY}L${other}`;
}

function part(name, attributes, words = "") {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.textContent = words;
  return made;
}

function parts(each) {
  if (each[0] === "number") {
    const [, x, y, number] = each;
    return [part("circle", { cx: x, cy: y, r: 38 }), part("text", { x, y }, String(number))];
  }
  const d = outline(each);
  return [part("path", { class: "edge", d }), part("path", { d })];
}

function sheet(box, strokes) {
  const svg = part("svg", { class: "strokes", viewBox: box, "aria-hidden": "true" });
  svg.append(...strokes.flatMap(parts));
  return svg;
}

function shown(source, box, strokes, alt) {
  const image = Object.assign(new Image(), { src: source.src, alt });
  image.width = source.width;
  image.height = source.height;
  return [image, sheet(box, strokes)];
}

function draw() {
  const strokes = all()[picture.name] ?? [];
  const place = dialog().querySelector("[data-draw-on]");
  place.querySelector("svg")?.remove();
  place.append(sheet(picture.box, stroke ? [...strokes, stroke] : strokes));
  dialog().querySelector("[data-draw-undo]").disabled = !strokes.length;
  const said = dialog().querySelector("[data-draw-said]");
  said.textContent = said.dataset.words.replace("{count}", strokes.length);
}

// Beside the reply stands each picture that something is drawn on.
function show() {
  const list = document.querySelector("[data-drawn-here]");
  const buttons = document.querySelectorAll("[data-draw-picture]");
  for (const button of buttons) button.hidden = false;
  if (!list || list.dataset.drawnHere === field().value) return;
  list.dataset.drawnHere = field().value;
  const kept = all();
  list.replaceChildren();
  for (const button of buttons) {
    const strokes = kept[button.dataset.drawPicture];
    if (!strokes) continue;
    const figure = Object.assign(document.createElement("span"), { className: "drawn" });
    const image = imageOf(button);
    figure.append(...shown(sizeOf(image), button.dataset.box, strokes, image.alt));
    list.append(figure);
  }
}

function imageOf(button) {
  return button.previousElementSibling.querySelector("img");
}

function sizeOf(image) {
  return {
    src: image.src,
    width: Number(image.getAttribute("width")),
    height: Number(image.getAttribute("height")),
  };
}

function open(button) {
  const image = imageOf(button);
  picture = { name: button.dataset.drawPicture, box: button.dataset.box };
  const place = dialog().querySelector("[data-draw-on]");
  place.replaceChildren(...shown(sizeOf(image), picture.box, [], image.alt));
  place.querySelector("img").draggable = false;
  draw();
  dialog().showModal();
}

function at(event) {
  const box = dialog().querySelector("[data-draw-on] svg").getBoundingClientRect();
  const thousandth = (far) => Math.round((far / box.width) * 1000);
  const high = thousandth(box.height);
  return [
    Math.min(1000, Math.max(0, thousandth(event.clientX - box.left))),
    Math.min(high, Math.max(0, thousandth(event.clientY - box.top))),
  ];
}

function shapeAt(place) {
  const shape = dialog().querySelector("[name=draw-shape]:checked").value;
  if (shape === "number") {
    const before = (all()[picture.name] ?? []).filter((each) => each[0] === "number");
    return [shape, ...place, Math.min(99, before.length + 1)];
  }
  return [shape, ...place, ...place];
}

function grow([shape, ...numbers], to) {
  if (shape === "number") return [shape, ...to, numbers[2]];
  if (shape === "line") {
    const [x, y] = numbers.slice(-2);
    const isNear = Math.hypot(to[0] - x, to[1] - y) < NEAR;
    return isNear || numbers.length >= LONGEST_LINE ? stroke : [...stroke, ...to];
  }
  if (shape === "arrow") return [shape, ...start, ...to];
  const corner = (way, side) => Math[way](start[side], to[side]);
  return [shape, corner("min", 0), corner("min", 1), corner("max", 0), corner("max", 1)];
}

// What was pressed and not dragged has the usual size around that place.
function ofUsualSize([shape], [x, y]) {
  const size = USUAL[shape];
  if (!size) return null;
  const low = (number) => Math.max(0, number - size);
  return shape === "arrow" ? [shape, low(x), low(y), x, y] : [shape, low(x), low(y), x + size, y + size];
}

function end(to) {
  const far = Math.hypot(to[0] - start[0], to[1] - start[1]);
  const drawn = stroke[0] === "number" || far >= PRESSED ? stroke : ofUsualSize(stroke, start);
  const strokes = all()[picture.name] ?? [];
  stroke = start = null;
  if (drawn && strokes.length < MOST) keep([...strokes, drawn]);
  draw();
}

document.addEventListener("pointerdown", (event) => {
  if (!event.target.closest("[data-draw-on]") || event.button) return;
  event.preventDefault();
  dialog().querySelector("[data-draw-on]").setPointerCapture(event.pointerId);
  start = at(event);
  stroke = shapeAt(start);
});
document.addEventListener("pointermove", (event) => {
  if (!stroke) return;
  stroke = grow(stroke, at(event));
  draw();
});
document.addEventListener("pointerup", (event) => {
  if (stroke) end(at(event));
});
document.addEventListener("pointercancel", () => {
  if (!stroke) return;
  stroke = start = null;
  draw();
});
document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-draw-picture]");
  if (button) open(button);
  if (event.target.closest("[data-draw-undo]")) {
    keep((all()[picture.name] ?? []).slice(0, -1));
    draw();
  }
  if (event.target.closest("[data-draw-done]")) dialog().close();
});
document.addEventListener("close", (event) => {
  if (event.target === dialog()) show();
}, true);
// What was typed and drawn before comes back into the form: its reply then says so.
document.addEventListener("input", (event) => event.target.matches("textarea") && show());
document.addEventListener("portal:changed", show);
show();
