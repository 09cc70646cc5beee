// Dragging on a wall with pointer or finger, and moving by key. Each move starts from the box at its beginning.
"use strict";
window.elevationsDrag = (() => {
  const { moved, movedEdge } = window.elevationsThings;
  const pull = 7, tapped = 4, leap = { us: 12, metric: 300 / 25.4 };
  const arrows = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

  // The box that a part of an item comes to, moved by inches right and up.
  function boxAfter(room, item, part, by, step) {
    const { wall, things, edges } = room.seen(), boxes = [...things, ...edges].filter((one) => one.list !== "ceiling" && one.key !== item.key).map((one) => [one.key, one.box]);
    return item.is_edge ? movedEdge(wall, item, by[1], boxes, step) : moved(wall, item, part, by, boxes, step);
  }

  function listen(room) {
    const { svg } = room;
    let drag = null;
    const spotOf = (event) => {
      const box = svg.getBoundingClientRect(), part = room.view.width / box.width;
      return room.view.place([(event.clientX - box.left) * part, (event.clientY - box.top) * part]);
    };
    const end = () => { svg.classList.remove("dragging"); drag = null; room.drops(); };
    const heldBy = (event) => event.target.closest?.("[data-key]")?.dataset;

    // A finger first taps a thing and then drags it; else scrolling over a wall would move what is on it.
    svg.addEventListener("pointerdown", (event) => {
      const held = heldBy(event);
      if (!held || event.button) return;
      const ready = event.pointerType !== "touch" || room.chosen === held.key || Boolean(room.itemOf(held.key)?.is_edge);
      drag = { key: held.key, part: held.part || "body", at: [event.clientX, event.clientY], ready };
      if (!ready) return;
      event.preventDefault();
      svg.setPointerCapture(event.pointerId);
      room.choose(held.key);
      svg.querySelector(`[data-key="${drag.key}"]${held.part ? `[data-part="${held.part}"]` : ""}`)?.focus({ preventScroll: true });
      Object.assign(drag, { from: spotOf(event), item: room.itemOf(held.key), good: null });
    });
    // What a finger holds is drawn anew as it moves, which would end the touch and scroll the page.
    svg.addEventListener("touchstart", (event) => { if (drag?.ready) event.preventDefault(); }, { passive: false });
    svg.addEventListener("pointermove", (event) => {
      if (!drag?.ready || !drag.item || (!drag.good && Math.hypot(event.clientX - drag.at[0], event.clientY - drag.at[1]) < tapped)) return;
      svg.classList.add("dragging");
      const now = spotOf(event), by = [now[0] - drag.from[0], now[1] - drag.from[1]];
      drag.good = boxAfter(room, drag.item, drag.part, by, { pull: pull / room.view.scale, units: room.shape.units, fine: event.shiftKey });
      room.preview(drag.item, drag.good);
    });
    svg.addEventListener("pointerup", (event) => {
      const { key, ready, item, good } = drag || {};
      const still = Math.hypot(event.clientX - drag?.at[0], event.clientY - drag?.at[1]) < 2 * tapped;
      if (key && !ready && still) room.choose(key);
      if (good) room.commit(item, good);
      end();
    });
    svg.addEventListener("pointercancel", () => { end(); room.redraw(); });
    svg.addEventListener("keydown", (event) => {
      const held = heldBy(event), way = arrows[event.key];
      if (event.key === "Escape" && drag) { end(); room.redraw(); }
      if (!held || event.ctrlKey || event.metaKey || event.altKey) return;
      const item = room.itemOf(held.key);
      if (way && item) {
        const step = event.shiftKey ? leap[room.shape.units] : lengths.step(room.shape.units);
        room.commit(item, boxAfter(room, item, held.part || "body", way.map((part) => part * step)), `arrow ${held.key}`);
      } else if (event.key === "Delete" || event.key === "Backspace") room.remove(held.key);
      else if (event.key === "Enter" || event.key === " ") { room.choose(held.key); room.openPanel(); }
      else return;
      event.preventDefault();
    });
    svg.addEventListener("focusin", (event) => {
      const held = heldBy(event);
      if (held && !drag && event.target.matches(":focus-visible")) room.choose(held.key);
    });
    return () => Boolean(drag?.ready);
  }

  return { listen };
})();
