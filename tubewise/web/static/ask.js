// While one types, the paints it can mean come as strips to tap; arrow keys walk them.
function suggest(field, place) {
  let latest = 0;
  let wait;
  async function look() {
    const mine = ++latest;
    const text = field.value.trim();
    if (text.length < 2) return place.replaceChildren();
    try {
      const answer = await fetch("/find/suggestions?" + new URLSearchParams({ q: text }));
      if (!answer.ok || mine !== latest) return;
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      const list = page.querySelector(".suggested");
      place.replaceChildren(...(list ? [list] : []));
      if (field.dataset.suggest === "instead") {
        for (const link of place.querySelectorAll("a")) {
          const [, kind, id] = new URL(link.href).pathname.split("/");
          link.href = "/instead?" + new URLSearchParams({ t: decodeURIComponent(id) });
          link.dataset.kind = kind;
        }
      }
    } catch {
      // The button still finds it.
    }
  }
  field.addEventListener("input", () => {
    clearTimeout(wait);
    wait = setTimeout(look, 160);
  });
  const walk = (event) => {
    const links = [...place.querySelectorAll("a")];
    if (event.key === "Escape") {
      place.replaceChildren();
      field.focus();
    } else if ((event.key === "ArrowDown" || event.key === "ArrowUp") && links.length) {
      event.preventDefault();
      const at = links.indexOf(document.activeElement) + (event.key === "ArrowDown" ? 1 : -1);
      (links[at] ?? field).focus();
    }
  };
  field.parentElement.addEventListener("keydown", walk);
  place.addEventListener("keydown", walk);
  document.addEventListener("click", (event) => {
    if (!place.contains(event.target) && event.target !== field) place.replaceChildren();
  });
}

for (const field of document.querySelectorAll("#ask, [data-suggest]")) {
  const place = document.createElement("div");
  place.className = "suggestions";
  place.setAttribute("role", "region");
  place.setAttribute("aria-label", "What it can mean");
  place.setAttribute("aria-live", "polite");
  field.after(place);
  suggest(field, place);
}

// How many tubes lie on the tray, and laying one without leaving the page.
const tray = document.querySelector("[data-tray-count]");
function count() {
  const kept = document.cookie.split("; ").find((c) => c.startsWith("tray="))?.slice(5) ?? "";
  const many = kept.split("~").filter(Boolean).length;
  if (tray) tray.textContent = many ? ` (${many})` : "";
}
document.addEventListener("click", async (event) => {
  const button = event.target.closest?.('button[name="lay"]');
  if (!button) return;
  event.preventDefault();
  const body = new URLSearchParams({ lay: button.value });
  try {
    const answer = await fetch("/tray", { method: "POST", body });
    if (!answer.ok) return;
    button.textContent = "on the tray";
    count();
  } catch {
    button.form?.requestSubmit(button);
  }
});
window.addEventListener("pageshow", count);
count();
