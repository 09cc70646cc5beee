// The signing field: typed without this file, drawn with it. Strokes are sent as whole points, 0–1000 by 0–300.
"use strict";
(() => {
  const wide = 1000, high = 300;

  function pointOf(event, canvas) {
    const box = canvas.getBoundingClientRect();
    const within = (value, most) => Math.min(most, Math.max(0, Math.round(value * most)));
    return [within((event.clientX - box.left) / box.width, wide), within((event.clientY - box.top) / box.height, high)];
  }

  function redraw(canvas, strokes) {
    const pen = canvas.getContext("2d");
    pen.clearRect(0, 0, wide, high);
    pen.lineWidth = 6;
    pen.lineCap = pen.lineJoin = "round";
    pen.strokeStyle = getComputedStyle(canvas).color;
    for (const stroke of strokes) {
      pen.beginPath();
      pen.moveTo(stroke[0][0], stroke[0][1]);
      for (const [x, y] of stroke) pen.lineTo(x, y);
      pen.stroke();
    }
  }

  function makePad(field) {
    const canvas = field.querySelector("canvas"), kept = field.querySelector("[name=strokes]");
    const kind = field.querySelector("[name=signature_kind]");
    const typed = field.querySelector("[data-typed]"), drawn = field.querySelector("[data-drawn]");
    const toggle = field.querySelector("[data-switch]");
    let strokes = [], current = null;

    const keep = () => { kept.value = strokes.length ? JSON.stringify(strokes) : ""; redraw(canvas, strokes); };
    canvas.addEventListener("pointerdown", (event) => {
      event.preventDefault();
      canvas.setPointerCapture(event.pointerId);
      current = [pointOf(event, canvas)];
      strokes.push(current);
      keep();
    });
    canvas.addEventListener("pointermove", (event) => {
      if (!current) return;
      const point = pointOf(event, canvas), last = current[current.length - 1];
      if (Math.hypot(point[0] - last[0], point[1] - last[1]) < 4) return;
      current.push(point);
      keep();
    });
    for (const name of ["pointerup", "pointercancel"]) canvas.addEventListener(name, () => { current = null; });
    field.querySelector("[data-clear]").addEventListener("click", () => { strokes = []; keep(); });
    toggle.hidden = false;
    toggle.addEventListener("click", () => {
      const draw = drawn.hidden;
      drawn.hidden = !draw;
      typed.hidden = draw;
      kind.value = draw ? "drawn" : "typed";
      toggle.textContent = draw ? "Type it instead" : "Draw it instead";
    });
  }

  for (const field of document.querySelectorAll("[data-signature]")) makePad(field);
})();

// The running total of ticked options, in cents so that it adds up.
(() => {
  const cents = (text) => Math.round(Number(text) * 100);

  function showTotal(form) {
    const ticked = form.querySelectorAll("[data-price]:checked");
    const sum = [...ticked].reduce((total, box) => total + cents(box.dataset.price), cents(form.dataset.base));
    const text = (sum / 100).toFixed(2), shown = form.querySelector("[data-chosen]");
    form.elements.namedItem("total").value = text;
    shown.textContent = form.dataset.symbol + text.replace(/\B(?=(\d{3})+\.)/g, ",");
  }

  for (const form of document.querySelectorAll("form[data-total]")) {
    const button = form.querySelector("[data-show-total]");
    if (!button) continue;
    const shown = form.querySelector("[data-chosen]");
    form.dataset.symbol = shown.textContent.trim().replace(/[0-9].*$/, "");
    button.hidden = true;
    for (const box of form.querySelectorAll("[data-price]")) box.addEventListener("change", () => showTotal(form));
    showTotal(form);
  }
})();
