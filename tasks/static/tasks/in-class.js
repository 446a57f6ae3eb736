// Before the class: one question at a time, and its things moved by hand or by keys. What is moved
// stands on this page alone: nothing is kept, and nothing is sent.
const WIDE = 1000;
const HIGH = 600;
const FREE_STEP = 25; // units that an arrow moves a thing by
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

const scenes = [...document.querySelectorAll(".scene")];
const said = document.querySelector("[data-said]");
const held = new Map(); // the thing under each finger, and where on it the finger is
let at = 0;

const placesOf = (svg) =>
  JSON.parse(svg.dataset.places).map(([name, x, y, reach, holds]) => ({ name, x, y, reach, holds }));
const thingsOf = (svg) => [...svg.querySelectorAll(".thing")];
const where = (thing) => ({ x: Number(thing.dataset.x), y: Number(thing.dataset.y) });
const apart = (one, other) => Math.hypot(one.x - other.x, one.y - other.y);
const within = (value, reach, end) => Math.round(Math.min(end - reach, Math.max(reach, value)));

// Every move there is goes through here.
function put(thing, x, y) {
  const reach = Number(thing.dataset.reach);
  thing.dataset.x = within(x, reach, WIDE);
  thing.dataset.y = within(y, reach, HIGH);
  thing.setAttribute("transform", `translate(${thing.dataset.x} ${thing.dataset.y})`);
}

function placeUnder(thing, places) {
  const near = places.filter((place) => apart(where(thing), place) <= place.reach * 1.1);
  return near.sort((one, other) => apart(where(thing), one) - apart(where(thing), other))[0];
}

const on = (place, svg, but) =>
  thingsOf(svg).filter((each) => each !== but && apart(where(each), place) <= place.reach);

// A place that holds one takes it into its middle, unless one lies there.
function settle(thing) {
  const svg = thing.ownerSVGElement;
  const place = placeUnder(thing, placesOf(svg));
  if (place?.holds === 1 && on(place, svg, thing).length === 0) put(thing, place.x, place.y);
}

function told(thing) {
  const place = placeUnder(thing, placesOf(thing.ownerSVGElement));
  return place ? `${thing.dataset.name}, ${place.name}` : thing.dataset.name;
}

function tell(thing, how = "") {
  const svg = thing.ownerSVGElement;
  thing.setAttribute("aria-label", told(thing));
  const counts = placesOf(svg)
    .filter((place) => place.holds === 0)
    .map((place) => `${place.name}: ${on(place, svg).length}`);
  say([[told(thing), how].filter(Boolean).join(", "), ...counts].join(". "));
}

function say(words) {
  said.textContent = words;
}

// An arrow leads to the next place that way; where there is none, a little further.
function push(thing, [dx, dy]) {
  const from = where(thing);
  const ahead = placesOf(thing.ownerSVGElement)
    .filter((place) => place.holds === 1)
    .map((place) => ({ place, along: (place.x - from.x) * dx + (place.y - from.y) * dy }))
    .filter(({ place, along }) => along > 2 && along >= apart(from, place) * 0.7)
    .sort((one, other) => apart(from, one.place) - apart(from, other.place))[0];
  if (ahead) put(thing, ahead.place.x, ahead.place.y);
  else put(thing, from.x + dx * FREE_STEP, from.y + dy * FREE_STEP);
  tell(thing, ahead ? "" : { "-1,0": "to the left", "1,0": "to the right", "0,-1": "up", "0,1": "down" }[[dx, dy]]);
}

// Enter takes it on to the place after the one it is at, where there is room.
function takeOn(thing) {
  const svg = thing.ownerSVGElement;
  const places = placesOf(svg);
  const here = placeUnder(thing, places);
  const first = places.findIndex((place) => place.name === here?.name) + 1;
  const order = [...places.slice(first), ...places.slice(0, first)];
  for (const place of order) {
    const free = roomOn(place, thing, svg);
    if (free) {
      put(thing, free.x, free.y);
      break;
    }
  }
  tell(thing);
}

function roomOn(place, thing, svg) {
  if (place.holds === 1) return on(place, svg, thing).length ? null : place;
  const reach = Number(thing.dataset.reach);
  const pitch = reach * 2.2;
  const others = thingsOf(svg).filter((each) => each !== thing);
  const spots = [];
  for (let row = -6; row <= 6; row += 1) {
    for (let column = -6; column <= 6; column += 1) {
      spots.push({ x: place.x + column * pitch, y: place.y + row * pitch });
    }
  }
  return spots
    .filter((spot) => apart(spot, place) + reach <= place.reach)
    .sort((one, other) => apart(one, place) - apart(other, place))
    .find((spot) => others.every((other) => apart(spot, where(other)) >= reach * 2));
}

function putBack(scene) {
  for (const thing of scene.querySelectorAll(".thing")) {
    put(thing, Number(thing.dataset.homeX), Number(thing.dataset.homeY));
    thing.setAttribute("aria-label", told(thing));
  }
  say(scene.querySelector("[data-put-back]").textContent.trim());
}

function pointOf(event, svg) {
  return new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
}

function hold(event) {
  const thing = event.target.closest(".thing");
  if (!thing || event.button > 0) return;
  const point = pointOf(event, thing.ownerSVGElement);
  const { x, y } = where(thing);
  held.set(event.pointerId, { thing, dx: x - point.x, dy: y - point.y });
  thing.setPointerCapture(event.pointerId);
  thing.classList.add("held");
}

function drag(event) {
  const grip = held.get(event.pointerId);
  if (!grip) return;
  const point = pointOf(event, grip.thing.ownerSVGElement);
  put(grip.thing, point.x + grip.dx, point.y + grip.dy);
}

function letGo(event) {
  const grip = held.get(event.pointerId);
  if (!grip) return;
  held.delete(event.pointerId);
  grip.thing.classList.remove("held");
  settle(grip.thing);
  tell(grip.thing);
}

function wakeStage(svg) {
  const things = thingsOf(svg);
  if (things.length === 0) return;
  svg.setAttribute("role", "group");
  things.forEach((thing, place) => {
    thing.dataset.homeX = thing.dataset.x;
    thing.dataset.homeY = thing.dataset.y;
    thing.dataset.name += ` (${place + 1} of ${things.length})`;
    thing.setAttribute("role", "button");
    thing.setAttribute("tabindex", "0");
    thing.setAttribute("aria-label", told(thing));
  });
  svg.addEventListener("pointerdown", hold);
  svg.addEventListener("pointermove", drag);
  svg.addEventListener("pointerup", letGo);
  svg.addEventListener("pointercancel", letGo);
  // A thing moved by hand takes no focus: the arrows go on turning the questions.
  svg.addEventListener("mousedown", (event) => event.preventDefault());
}

function show(next) {
  if (next < 0 || next >= scenes.length) return;
  at = next;
  scenes.forEach((scene, place) => {
    scene.hidden = place !== at;
    for (const fold of scene.querySelectorAll("details")) fold.open = false;
  });
  document.querySelector("[data-at]").textContent = at + 1;
  for (const key of document.querySelectorAll("[data-step]")) {
    const beyond = at + Number(key.dataset.step);
    key.setAttribute("aria-disabled", String(beyond < 0 || beyond >= scenes.length));
  }
  say(`${document.querySelector("[data-count]").textContent}: ${scenes[at].querySelector("h2").textContent}`);
}

function pressed(event) {
  if (event.altKey || event.ctrlKey || event.metaKey) return;
  const thing = event.target.closest?.(".thing");
  if (event.key === "Escape") {
    const open = document.querySelector(".class-fold[open]");
    if (open) open.open = false;
    else document.querySelector("[data-leave]").click();
  } else if (thing && event.key in ARROWS) {
    event.preventDefault();
    push(thing, ARROWS[event.key]);
  } else if (thing && (event.key === "Enter" || event.key === " ")) {
    event.preventDefault();
    takeOn(thing);
  } else if (event.key === "ArrowRight" || event.key === "PageDown") {
    event.preventDefault();
    show(at + 1);
  } else if (event.key === "ArrowLeft" || event.key === "PageUp") {
    event.preventDefault();
    show(at - 1);
  }
}

function wake() {
  document.body.classList.add("in-class-live");
  for (const each of document.querySelectorAll("[data-keys], [data-print], [data-count], [data-put-back]")) {
    each.hidden = false;
  }
  document.querySelectorAll(".scene-picture").forEach(wakeStage);
  document.addEventListener("keydown", pressed);
  document.addEventListener("click", (event) => {
    const step = event.target.closest("[data-step]");
    if (step) show(at + Number(step.dataset.step));
    else if (event.target.closest("[data-put-back]")) putBack(scenes[at]);
    else if (event.target.closest("[data-print]")) window.print();
  });
  show(0);
}

if (scenes.length > 0) wake();
