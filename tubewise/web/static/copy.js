// A button beside each message to a seat, which puts it where it can be pasted from.
for (const text of document.querySelectorAll("[data-copied]")) {
  if (!navigator.clipboard) break;
  const button = document.createElement("button");
  button.type = "button";
  button.className = "link copy";
  button.textContent = "copy";
  button.setAttribute("aria-label", `copy: ${text.textContent}`);
  button.addEventListener("click", async () => {
    await navigator.clipboard.writeText(text.textContent);
    button.textContent = "copied";
  });
  text.after(" ", button);
}
// A link to what is folded away opens it.
function unfold() {
  const there = location.hash && document.getElementById(location.hash.slice(1));
  const fold = there && there.closest("details");
  if (fold && !fold.open) {
    fold.open = true;
    there.scrollIntoView();
  }
}
window.addEventListener("hashchange", unfold);
unfold();
