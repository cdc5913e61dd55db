// Reads a picture in the browser: nothing of it is sent. A point, or the arrow keys, choose an area.
const form = document.querySelector("[data-picture]");
if (form) {
  const file = form.querySelector("input[type=file]");
  const canvas = form.querySelector("canvas");
  const size = form.querySelector("select");
  const chip = form.querySelector("[data-chip]");
  const told = form.querySelector("[data-told]");
  const target = form.querySelector("input[name=target]");
  const go = form.querySelector("button[type=submit]");
  const MOST = 40e6;
  const SIDE = 1400;
  const pen = canvas.getContext("2d", { willReadFrequently: true });
  let pixels = null;
  let at = [0.5, 0.5];

  const linear = (v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
  const encoded = (v) => (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055);
  // IEC 61966-2-1 and CIE 15: linear sRGB to CIELAB under D65.
  const lab = ([r, g, b]) => {
    const f = (t) => (t > 216 / 24389 ? Math.cbrt(t) : (24389 / 27 * t + 16) / 116);
    const x = f((0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505);
    const y = f(0.2126 * r + 0.7152 * g + 0.0722 * b);
    const z = f((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089);
    return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
  };

  const read = () => {
    if (!pixels) return;
    const { width, height, data } = pixels;
    const radius = Math.max(1, (Number(size.value) / 100) * Math.max(width, height) / 2);
    const [cx, cy] = [at[0] * (width - 1), at[1] * (height - 1)];
    const sum = [0, 0, 0];
    const light = [];
    let n = 0;
    for (let y = Math.max(0, Math.ceil(cy - radius)); y <= Math.min(height - 1, cy + radius); y++)
      for (let x = Math.max(0, Math.ceil(cx - radius)); x <= Math.min(width - 1, cx + radius); x++) {
        if ((x - cx) ** 2 + (y - cy) ** 2 > radius * radius) continue;
        const k = 4 * (y * width + x);
        const rgb = [0, 1, 2].map((c) => linear(data[k + c] / 255));
        rgb.forEach((v, c) => (sum[c] += v));
        light.push(lab(rgb)[0]);
        n++;
      }
    const mean = sum.map((v) => v / n);
    const [L, a, b] = lab(mean).map((v) => Math.round(v * 10) / 10);
    const middle = light.reduce((s, v) => s + v, 0) / n;
    const spread = Math.sqrt(light.reduce((s, v) => s + (v - middle) ** 2, 0) / n);
    const hex = "#" + mean.map((v) => Math.round(255 * encoded(v)).toString(16).padStart(2, "0")).join("");
    draw(cx, cy, radius);
    chip.style.background = hex;
    target.value = `lab:${L},${a},${b}`;
    go.disabled = false;
    told.textContent = `${hex}, CIELAB ${L}, ${a}, ${b}` +
      (spread > 6 ? ". The area is not one colour; this is its mean." : ".");
  };

  const draw = (cx, cy, radius) => {
    pen.putImageData(pixels, 0, 0);
    for (const [colour, wide] of [["#fff", 5], ["#000", 2]]) {
      pen.beginPath();
      pen.arc(cx, cy, Math.max(radius, 4), 0, 2 * Math.PI);
      pen.strokeStyle = colour;
      pen.lineWidth = wide;
      pen.stroke();
    }
  };

  file.addEventListener("change", async () => {
    const chosen = file.files[0];
    pixels = null;
    go.disabled = true;
    if (!chosen) return;
    if (chosen.size > MOST) {
      told.textContent = "This file is larger than 40 MB; choose a smaller picture.";
      return;
    }
    try {
      // Made small while it is read, so that a huge picture doesn't fill the memory.
      const bitmap = await createImageBitmap(chosen, { imageOrientation: "from-image" });
      const scale = Math.min(1, SIDE / Math.max(bitmap.width, bitmap.height));
      canvas.width = Math.max(1, Math.round(bitmap.width * scale));
      canvas.height = Math.max(1, Math.round(bitmap.height * scale));
      pen.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
      bitmap.close();
    } catch {
      told.textContent = "This browser can't show that file as a picture; choose a JPEG or PNG.";
      return;
    }
    pixels = pen.getImageData(0, 0, canvas.width, canvas.height);
    canvas.hidden = false;
    at = [0.5, 0.5];
    read();
  });
  canvas.addEventListener("pointerdown", (event) => {
    const box = canvas.getBoundingClientRect();
    at = [(event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height];
    read();
  });
  canvas.addEventListener("keydown", (event) => {
    const step = event.shiftKey ? 0.05 : 0.01;
    const move = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] }[event.key];
    if (!move) return;
    event.preventDefault();
    at = at.map((v, k) => Math.min(1, Math.max(0, v + move[k])));
    read();
  });
  size.addEventListener("change", read);
}
