// Reads the label while it is typed; the address follows, so that it can be shared.
const form = document.querySelector("[data-label]");
const place = document.querySelector("[data-reading]");
let latest = 0;
async function read() {
  const mine = ++latest;
  const address = "/label?" + new URLSearchParams(new FormData(form));
  try {
    const answer = await fetch(address, { headers: { accept: "text/html" } });
    if (!answer.ok || mine !== latest) return;
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    place.replaceChildren(...page.querySelector("[data-reading]").childNodes);
    history.replaceState(null, "", address);
  } catch {
    // Without an answer the button still works.
  }
}
if (form && place) {
  let wait;
  form.addEventListener("input", () => {
    clearTimeout(wait);
    wait = setTimeout(read, 250);
  });
}
