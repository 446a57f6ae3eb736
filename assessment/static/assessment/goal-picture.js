// A class by its goals: arrow keys go from mark to mark, and a press opens what is under one below.
const picture = document.querySelector("[data-goal-picture]");
const said = document.querySelector("[data-cell-said]");
const AT_MOST = 3;
const STEPS = { ArrowLeft: [0, -1], ArrowRight: [0, 1], ArrowUp: [-1, 0], ArrowDown: [1, 0] };
let asked = 0;

const rows = () => [...picture.tBodies[0].rows];
const linkAt = (row, column) => rows()[row]?.cells[column]?.querySelector("a");

// One stop for the tab key: five hundred would shut the rest of the page off.
function stopAt(link) {
  for (const other of picture.querySelectorAll("tbody td a")) other.tabIndex = other === link ? 0 : -1;
}

function next(cell, [down, across]) {
  let [row, column] = [cell.parentElement.sectionRowIndex, cell.cellIndex];
  while (row >= 0 && row < rows().length && column > 0 && column < cell.parentElement.cells.length) {
    [row, column] = [row + down, column + across];
    const link = linkAt(row, column);
    if (link && column > 0) return link;
  }
  return null;
}

function head(cell, isHere) {
  picture.tHead.rows[0].cells[cell.cellIndex].classList.toggle("is-here", isHere);
}

async function open(link) {
  const turn = ++asked;
  const answer = await fetch(link.href, { credentials: "same-origin" });
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const facts = page.querySelector("[data-facts]");
  if (turn !== asked) return;
  if (!answer.ok || !facts) return location.assign(link.href);
  const pieces = document.createElement("div");
  pieces.className = "cell-pieces";
  pieces.append(...[...page.querySelectorAll("article.work")].slice(0, AT_MOST));
  said.replaceChildren(facts, pieces);
  for (const cell of picture.querySelectorAll(".is-chosen")) cell.classList.remove("is-chosen");
  link.closest("td").classList.add("is-chosen");
}

if (picture && said) {
  stopAt(picture.querySelector("tbody td a"));
  picture.addEventListener("keydown", (event) => {
    const cell = event.target.closest("tbody td");
    const step = STEPS[event.key];
    if (!cell || !step || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    const fromRight = document.documentElement.dir === "rtl" ? -1 : 1;
    next(cell, [step[0], step[1] * fromRight])?.focus();
  });
  picture.addEventListener("focusin", (event) => {
    const cell = event.target.closest("tbody td");
    if (cell) stopAt(event.target), head(cell, true);
  });
  picture.addEventListener("focusout", (event) => {
    const cell = event.target.closest("tbody td");
    if (cell) head(cell, false);
  });
  picture.addEventListener("click", (event) => {
    const link = event.target.closest("tbody td a");
    if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    open(link).catch(() => location.assign(link.href));
  });
}
