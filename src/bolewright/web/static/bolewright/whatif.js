// The slider of a cut: dragged by thumb or arrow keys, it writes the number that is sent.
"use strict";
for (const slide of document.querySelectorAll("input[type=range][data-for]")) {
  const number = document.getElementById(slide.dataset.for);
  slide.hidden = false;
  slide.addEventListener("input", () => { number.value = slide.value; });
  number.addEventListener("input", () => { if (!Number.isNaN(Number(number.value))) slide.value = number.value; });
}
