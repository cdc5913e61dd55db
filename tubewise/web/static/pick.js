// Says how many tubes are ticked, and keeps it to four.
const form = document.querySelector(".picking");
const told = form?.querySelector("[data-picked]");
if (form && told) {
  const boxes = [...form.querySelectorAll('input[name="t"]')];
  const button = form.querySelector(".pickbar button");
  const tell = () => {
    const n = boxes.filter((box) => box.checked).length;
    for (const box of boxes) box.disabled = n >= 4 && !box.checked;
    button.disabled = n === 0;
    told.textContent = n === 0 ? "Tick two to four tubes." : n === 1 ? "One ticked; one more." : `${n} ticked.`;
  };
  form.addEventListener("change", tell);
  window.addEventListener("pageshow", tell);
  tell();
}
