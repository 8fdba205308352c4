// Two taps on a picture: the first is where a mark begins, the second where it ends, a further one moves the nearer. A
// mouse or pen may also draw the line. The numbers in the form are what is sent. Unless a size was chosen, the picture is
// as large as fits between what stands above it and the stop.
"use strict";
(() => {
  const form = document.getElementById("draw"), picture = document.getElementById("at"), over = document.getElementById("crosses");
  if (!form || !picture || !over) return;
  const SVG = "http://www.w3.org/2000/svg", CROSS = "M-1 0H-.2M.2 0H1M0-1V-.2M0 .2V1", MOVED = 10; // CSS pixels
  const [, , width, height] = over.getAttribute("viewBox").split(" ").map(Number);
  const field = (name) => form.elements[name];
  const kind = () => field("kind").value;
  const point = (n) => {
    const [x, y] = [field(`x${n}`).value, field(`y${n}`).value].map((text) => text.trim() === "" ? NaN : Number(text));
    return Number.isFinite(x) && Number.isFinite(y) ? [x, y] : null;
  };
  const write = (n, [x, y]) => { field(`x${n}`).value = x.toFixed(2); field(`y${n}`).value = y.toFixed(2); };
  const far = (a, b) => Math.hypot((a[0] - b[0]) * width, (a[1] - b[1]) * height);

  const draw = (name, facts) => {
    const made = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(facts)) made.setAttribute(key, value);
    over.append(made);
  };
  const show = () => {
    over.replaceChildren();
    const found = [point(1), kind() === "text" ? null : point(2)].filter(Boolean).map(([x, y]) => [x * width / 100, y * height / 100]);
    if (found.length === 2) draw("path", { class: "way", d: `M${found[0].join(" ")}L${found[1].join(" ")}` });
    for (const [x, y] of found) draw("path", { d: CROSS, transform: `translate(${x} ${y}) scale(${over.dataset.cross})` });
    document.getElementById("say-tap").classList.remove("fault");
    document.getElementById("say-tap").textContent = !found.length ? "Tap where it begins on the picture, then where it ends; words have one place."
      : found.length === 1 && kind() !== "text" ? "Now tap where it ends." : "A further tap moves the nearer cross. Then draw it.";
  };
  const tap = (at) => {
    const start = point(1), end = point(2);
    if (!start || kind() === "text") write(1, at);
    else if (!end || far(end, at) <= far(start, at)) write(2, at);
    else write(1, at);
    show();
  };

  const place = (event) => {
    const box = picture.getBoundingClientRect();
    const share = (value, size) => Math.max(0, Math.min(100, value / size * 100));
    return [share(event.clientX - box.left, box.width), share(event.clientY - box.top, box.height)];
  };
  const frame = picture.closest(".taps"), sizes = [...form.querySelectorAll("[name=to]")].map((button) => button.value);
  const fit = () => {
    if (field("shown").value !== "" && sizes.includes(field("shown").value)) return;
    const under = document.querySelector(".stopbar")?.offsetHeight ?? 0, top = frame.getBoundingClientRect().top + window.scrollY;
    const room = [frame.clientWidth, Math.max(window.innerHeight - top - under - 14, 200)];
    const scale = Math.min(room[0] / width, room[1] / height);
    [picture.width, picture.height] = [Math.floor(width * scale), Math.floor(height * scale)];
    field("shown").value = Math.max(picture.width, picture.height);
  };
  const sized = (button) => {
    const scale = Number(button.value) / Math.max(width, height);
    [picture.width, picture.height] = [Math.round(width * scale), Math.round(height * scale)];
    field("shown").value = button.value;
    for (const one of form.querySelectorAll("[name=to]")) if (one === button) one.setAttribute("aria-current", "true"); else one.removeAttribute("aria-current");
  };
  const missing = () => {
    if (!point(1)) return "Tap the place on the picture.";
    if (kind() === "text" && !field("words").value.trim()) return "Write the words that are to stand there.";
    if (kind() !== "text" && !point(2)) return "Tap where it ends, too.";
    if (kind() === "scale" && !/\d/.test(field("measure").value)) return "How long is the scale? Such as 80 cm or 2 ft 8 in.";
    return kind() === "length" && !field("scale").value ? "Draw a scale first: two points on something whose length you know." : "";
  };
  const lack = (text) => { const told = document.getElementById("say-tap"); told.textContent = text; told.classList.add("fault"); told.scrollIntoView({ block: "nearest" }); };
  let down = null;
  picture.addEventListener("pointerdown", (event) => { if (event.isPrimary && event.button === 0) down = event; });
  picture.addEventListener("pointercancel", () => { down = null; });
  picture.addEventListener("pointerup", (event) => {
    if (!down || event.pointerId !== down.pointerId) return;
    const drawn = Math.hypot(event.clientX - down.clientX, event.clientY - down.clientY) > MOVED;
    if (drawn && event.pointerType !== "touch" && kind() !== "text") { write(1, place(down)); write(2, place(event)); show(); }
    else if (!drawn) tap(place(event));
    down = null;
  });
  picture.addEventListener("click", (event) => event.preventDefault()); // taps are taken above; a key pressed on it is none
  picture.addEventListener("dragstart", (event) => event.preventDefault());
  form.addEventListener("input", show);
  form.addEventListener("click", (event) => { if (event.target.name === "to") { event.preventDefault(); sized(event.target); } });
  form.addEventListener("submit", (event) => { // told here, so that nothing unfinished is kept to be sent later
    const lacks = event.submitter?.name === "draw" ? missing() : "";
    if (lacks) { event.preventDefault(); lack(lacks); }
  });
  form.addEventListener("reset", () => { // it was kept: the next one is of the same kind
    const [same, shown] = [kind(), field("shown").value];
    setTimeout(() => { field("kind").value = same; field("shown").value = shown; show(); });
  });
  window.addEventListener("resize", fit);
  fit();
  show();
})();
