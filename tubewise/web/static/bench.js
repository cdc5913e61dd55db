// The live bench: sliders beside the numbers, the colour and the distance while they move.
const form = document.querySelector("[data-bench]");
const mixed = form.querySelector("[data-mixed]");
const words = form.querySelector("[data-words]");
const distance = form.querySelector("[data-distance]");
const MADE = "http://www.w3.org/2000/svg";

function asked() {
  const query = new URLSearchParams();
  const target = form.elements.target.value.trim();
  if (target) query.set("target", target);
  for (const part of form.querySelectorAll(".bench-part")) {
    const term = part.querySelector("input[name=term]").value;
    const parts = Number(part.querySelector("input[name=parts]").value) || 0;
    query.append("part", `${term}=${parts}`);
  }
  return query;
}

function show(answer) {
  if (answer.colour) {
    const svg = document.createElementNS(MADE, "svg");
    svg.setAttribute("class", "swatch");
    svg.setAttribute("viewBox", "0 0 1 1");
    svg.setAttribute("preserveAspectRatio", "none");
    svg.setAttribute("role", "img");
    svg.setAttribute("aria-label", "mixed");
    const rect = document.createElementNS(MADE, "rect");
    rect.setAttribute("width", "1");
    rect.setAttribute("height", "1");
    rect.setAttribute("fill", answer.colour.hex);
    svg.append(rect);
    mixed.replaceChildren(svg);
  }
  words.textContent = answer.words.charAt(0).toUpperCase() + answer.words.slice(1);
  if (distance) distance.textContent = answer.delta_e00 === null ? "–" : answer.delta_e00.toFixed(1);
}

let busy = false;
let again = false;
let address;
async function look() {
  if (busy) {
    again = true;
    return;
  }
  busy = true;
  const query = asked();
  try {
    const answer = await fetch("/api/bench?" + query);
    if (answer.ok) show(await answer.json());
  } catch {
    // The button still works.
  }
  busy = false;
  clearTimeout(address);
  address = setTimeout(() => {
    const kept = new URLSearchParams();
    if (query.get("target")) kept.set("target", query.get("target"));
    for (const p of query.getAll("part")) kept.append("p", p);
    if (form.elements.box.value) kept.set("box", form.elements.box.value);
    history.replaceState(null, "", "/mixing/bench?" + kept);
  }, 400);
  if (again) {
    again = false;
    look();
  }
}

for (const part of form.querySelectorAll(".bench-part")) {
  const number = part.querySelector("input[name=parts]");
  const slider = document.createElement("input");
  slider.type = "range";
  slider.min = "0";
  slider.max = String(Math.max(16, Number(number.value)));
  slider.step = "0.25";
  slider.value = number.value;
  slider.setAttribute("aria-label", `parts of ${part.querySelector("label").textContent.trim()}`);
  slider.addEventListener("input", () => {
    number.value = slider.value;
    look();
  });
  number.addEventListener("input", () => {
    slider.value = number.value;
    look();
  });
  part.append(slider);
}
form.elements.target.addEventListener("change", look);
