// The place to sign: what is drawn goes into the form as lines of whole numbers in a field of 600 by 200.
"use strict";
(() => {
  const pad = document.getElementById("pad"), field = document.getElementById("strokes");
  if (!pad || !field) return;
  pad.parentElement.hidden = false;
  const ink = pad.getContext("2d");
  let strokes = [], now = null;

  const place = (event) => {
    const box = pad.getBoundingClientRect();
    const at = (value, size, most) => Math.max(0, Math.min(most, Math.round(value / size * most)));
    return [at(event.clientX - box.left, box.width, 600), at(event.clientY - box.top, box.height, 200)];
  };
  const draw = () => {
    ink.clearRect(0, 0, 600, 200);
    ink.lineWidth = 4; ink.lineCap = ink.lineJoin = "round";
    ink.strokeStyle = getComputedStyle(pad).color;
    for (const line of strokes) {
      ink.beginPath();
      line.forEach(([x, y], k) => k ? ink.lineTo(x, y) : ink.moveTo(x, y));
      ink.stroke();
    }
    field.value = strokes.filter((line) => line.length > 1).map((line) => "M" + line.map((p) => p.join(" ")).join(" L")).join(" ");
  };

  pad.addEventListener("pointerdown", (event) => {
    event.preventDefault();
    pad.setPointerCapture(event.pointerId);
    now = [place(event)];
    strokes.push(now);
  });
  pad.addEventListener("pointermove", (event) => {
    if (!now) return;
    const next = place(event), last = now[now.length - 1];
    if (Math.hypot(next[0] - last[0], next[1] - last[1]) >= 2) { now.push(next); draw(); }
  });
  for (const end of ["pointerup", "pointercancel"]) pad.addEventListener(end, () => { now = null; draw(); });
  document.getElementById("pad-clear").addEventListener("click", () => { strokes = []; draw(); });
  if (field.value) {
    strokes = field.value.split("M").filter(Boolean).map((line) => line.trim().split(" L").map((p) => p.trim().split(" ").map(Number)));
    draw();
  }
})();
