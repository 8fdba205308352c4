// A cut is moved on the drawing itself, by finger, pen or arrow keys; slider and number do the same without it.
"use strict";
(() => {
  const TARGET = 20 / 25.4 * 96; // 20 mm in CSS pixels
  const PAUSE = 700; // milliseconds after the last arrow key
  const NS = "http://www.w3.org/2000/svg";
  const NO_SIGNAL = "NOT TRIED: a change is worked out by the server, and there is no signal. Nothing was changed; try it again when there is.";
  let grips = [], held = null, svg = null, focus = "", quiet;
  const us = () => svg.closest("figure").dataset.units === "us";
  const step = () => (us() ? 2.54 : 1); // an inch or a centimetre; distances here are in centimetres
  const form = () => document.getElementById("cut-form");

  /** As the drawings write a length. */
  const words = (cm) => {
    if (!us()) return `${(cm / 100).toFixed(2)} m`;
    const inches = Math.round(cm / 2.54), feet = Math.floor(inches / 12), rest = inches % 12;
    return feet ? `${feet} ft${rest ? ` ${rest} in` : ""}` : `${rest} in`;
  };

  /** Where the wood is on the sheet at a distance along it. */
  function spotAt(run, s) {
    const k = Math.max(1, run.findIndex((point) => point[2] >= s));
    const [a, b] = [run[k - 1], run[k]], t = b[2] > a[2] ? (s - a[2]) / (b[2] - a[2]) : 0;
    return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
  }

  /** The distance along the wood nearest to a place on the sheet. */
  function along(run, [x, y]) {
    let best = Infinity, found = run[0][2];
    for (let k = 1; k < run.length; k += 1) {
      const [a, b] = [run[k - 1], run[k]], dx = b[0] - a[0], dy = b[1] - a[1], long = dx * dx + dy * dy;
      const t = long ? Math.max(0, Math.min(1, ((x - a[0]) * dx + (y - a[1]) * dy) / long)) : 0;
      const apart = Math.hypot(x - a[0] - t * dx, y - a[1] - t * dy);
      if (apart < best) { best = apart; found = a[2] + t * (b[2] - a[2]); }
    }
    return found;
  }

  const onSheet = (event) => {
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    return [point.x, point.y];
  };

  function snapped(grip, s) {
    const size = step(), whole = Math.round(s / size) * size;
    if (whole > grip.high) return Math.floor(grip.high / size) * size;
    return whole < grip.low ? Math.ceil(grip.low / size) * size : whole;
  }

  function moveTo(grip, s) {
    grip.now = snapped(grip, s);
    const [x, y] = spotAt(grip.run, grip.now), [x0, y0] = spotAt(grip.run, grip.shown);
    const by = `translate(${(x - x0).toFixed(2)} ${(y - y0).toFixed(2)})`;
    for (const part of [grip.mark, grip.kerf, grip.target]) part.setAttribute("transform", by);
    grip.mark.setAttribute("aria-valuenow", (grip.now / (us() ? 30.48 : 100)).toFixed(2));
    grip.mark.setAttribute("aria-valuetext", words(grip.now));
    const room = grip.target.r.baseVal.value;
    const said = svg.querySelector(".grip-words");
    said.setAttribute("x", grip.centre[0] + x - x0);
    said.setAttribute("y", Math.max(grip.centre[1] + y - y0 - room * 0.8, said.dataset.size * 1.1));
    said.textContent = words(grip.now);
  }

  /** The form below says the same cut and place. */
  function write(grip) {
    const per = us() ? 30.48 : 100, slide = document.getElementById("cut-slide");
    form().elements.piece.value = grip.piece;
    document.getElementById("cut-name").textContent = `${grip.piece}: cut at, along ${grip.mark.dataset.member}`;
    slide.min = (grip.low / per).toFixed(2); slide.max = (grip.high / per).toFixed(2); slide.value = (grip.now / per).toFixed(2);
    slide.setAttribute("aria-label", `Slide the cut of ${grip.piece} along ${grip.mark.dataset.member}`);
    document.getElementById("cut-at").value = words(grip.now);
    for (const other of grips) other.mark.classList.toggle("held", other === grip);
  }

  const quietWords = () => { svg.querySelector(".grip-words").textContent = ""; };
  const tryIt = (by) => { clearTimeout(quiet); focus = by; form().requestSubmit(); };

  function take(event) {
    const spot = onSheet(event);
    const near = grips.map((grip) => {
      const [x, y] = spotAt(grip.run, grip.now), [x0, y0] = spotAt(grip.run, grip.shown);
      return { grip, apart: Math.hypot(spot[0] - grip.centre[0] - x + x0, spot[1] - grip.centre[1] - y + y0) };
    }).filter(({ grip, apart }) => apart <= grip.target.r.baseVal.value).sort((a, b) => a.apart - b.apart)[0]?.grip;
    if (!near || event.button) return;
    event.preventDefault();
    svg.setPointerCapture(event.pointerId);
    held = { grip: near, from: near.now, spot: along(near.run, spot) };
    near.mark.focus({ preventScroll: true });
    moveTo(near, near.now);
    write(near);
  }

  function drag(event) {
    if (!held) return;
    moveTo(held.grip, Math.max(held.grip.low, Math.min(held.grip.high, held.from + along(held.grip.run, onSheet(event)) - held.spot)));
    write(held.grip);
  }

  function letGo(event) {
    if (!held) return;
    const { grip, from } = held;
    held = null;
    if (event.type === "pointercancel") { moveTo(grip, from); write(grip); quietWords(); return; }
    if (Math.abs(grip.now - from) > step() / 2) tryIt(grip.piece); else quietWords();
  }

  function key(event) {
    const grip = grips.find((one) => one.mark === event.target);
    if (!grip) return;
    if (event.key === "Enter") { event.preventDefault(); write(grip); tryIt(grip.piece); return; }
    const to = { ArrowRight: grip.now + step(), ArrowUp: grip.now + step(), ArrowLeft: grip.now - step(), ArrowDown: grip.now - step(),
      PageUp: grip.now + 10 * step(), PageDown: grip.now - 10 * step(), Home: grip.low, End: grip.high, Escape: grip.shown }[event.key];
    if (to === undefined) return;
    event.preventDefault();
    moveTo(grip, Math.max(grip.low, Math.min(grip.high, to)));
    write(grip);
    clearTimeout(quiet);
    if (event.key !== "Escape") quiet = setTimeout(() => tryIt(grip.piece), PAUSE);
  }

  /** Targets are as large on every screen, however large the drawing is. */
  function measure() {
    const scale = svg.getScreenCTM()?.a || 1;
    for (const grip of grips) grip.target.setAttribute("r", TARGET / 2 / scale);
    const said = svg.querySelector(".grip-words");
    said.dataset.size = 20 / scale;
    said.setAttribute("font-size", 20 / scale);
  }

  function readGrip(mark) {
    const run = mark.dataset.run.split(" ").map((point) => point.split(",").map(Number));
    const box = mark.getBBox(), centre = [box.x + box.width / 2, box.y + box.height / 2];
    const [low, high, shown] = [mark.dataset.low, mark.dataset.high, mark.dataset.shown].map(Number);
    const target = document.createElementNS(NS, "circle");
    target.setAttribute("class", "grip-target"); target.setAttribute("cx", centre[0]); target.setAttribute("cy", centre[1]);
    svg.append(target);
    const kerf = svg.querySelector(`[data-kerf="${CSS.escape(mark.dataset.piece)}"]`);
    const per = us() ? 30.48 : 100;
    for (const [name, value] of Object.entries({ tabindex: 0, role: "slider", "aria-label": `Cut of ${mark.dataset.piece} along ${mark.dataset.member}`,
      "aria-valuemin": (low / per).toFixed(2), "aria-valuemax": (high / per).toFixed(2), "aria-valuenow": (shown / per).toFixed(2), "aria-valuetext": words(shown) })) mark.setAttribute(name, value);
    return { mark, kerf, target, run, centre, low, high, shown, now: shown, piece: mark.dataset.piece };
  }

  function slider() {
    const slide = document.getElementById("cut-slide"), number = document.getElementById("cut-at");
    if (!slide) return;
    slide.hidden = false;
    const own = () => grips.find((grip) => grip.piece === form().elements.piece.value);
    const follow = (value) => { const grip = own(); if (grip) { moveTo(grip, value * (us() ? 30.48 : 100)); } };
    slide.addEventListener("input", () => { number.value = slide.value; follow(Number(slide.value)); });
    number.addEventListener("input", () => { if (number.value && !Number.isNaN(Number(number.value))) { slide.value = number.value; follow(Number(slide.value)); } });
  }

  function start() {
    svg = document.querySelector("figure.grips svg");
    if (!svg) return;
    svg.setAttribute("role", "group");
    const said = document.createElementNS(NS, "text");
    said.setAttribute("class", "grip-words"); said.setAttribute("text-anchor", "middle");
    svg.append(said);
    grips = [...svg.querySelectorAll("[data-run]")].map(readGrip);
    measure();
    for (const hint of document.querySelectorAll(".grips-said")) hint.hidden = !grips.length;
    svg.addEventListener("pointerdown", take);
    svg.addEventListener("touchstart", (event) => { if (held) event.preventDefault(); }, { passive: false }); // else the page would scroll
    svg.addEventListener("pointermove", drag);
    svg.addEventListener("pointerup", letGo);
    svg.addEventListener("pointercancel", letGo);
    svg.addEventListener("keydown", key);
    slider();
  }

  const trying = (text) => { const line = document.getElementById("trying"); if (line) { line.textContent = text; line.classList.toggle("fault", text.startsWith("NOT")); } };
  addEventListener("resize", () => { if (svg?.isConnected) measure(); });
  document.addEventListener("htmx:beforeRequest", () => trying("Working out both sides …"));
  document.addEventListener("htmx:sendError", () => trying(NO_SIGNAL));
  document.addEventListener("htmx:responseError", () => trying("NOT TRIED: the server refused it. Load the page again and try it there."));
  document.addEventListener("htmx:afterSettle", (event) => {
    if (event.detail.target?.id !== "trial" && event.detail.elt?.id !== "trial") return;
    start();
    const mark = grips.find((grip) => grip.piece === focus)?.mark;
    mark?.focus({ preventScroll: true });
    (document.querySelector("#tried table") ?? document.querySelector(".told .fault"))?.scrollIntoView({ block: "nearest" });
  });
  start();
})();
