// Dragging with a pointer and moving by key. Each move makes a changed shape of the one at the start of the drag.
"use strict";
window.outlineDrag = (() => {
  const { wallsOf, at, isSound, moveCorner, moveWall, removeCorner, copyOf } = window.outlineShape;
  const reach = 7, tapped = 4, leap = { us: 12, metric: 300 / 25.4 }, least = 2;
  const arrows = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
  const partsOf = (key) => { const [kind, ...rest] = key.split(":"); return kind === "size" ? [kind, rest[0], Number(rest[1])] : [kind, kind, Number(rest[0])]; };
  const listOf = (kind) => (kind === "fixture" ? "fixtures" : "openings");
  const dot = (a, b) => a[0] * b[0] + a[1] * b[1];
  const less = (a, b) => [a[0] - b[0], a[1] - b[1]];
  const clamp = (value, low, high) => Math.max(low, Math.min(value, Math.max(low, high)));

  // The place that draws a value to it when it is near, or else the grid.
  function drawnTo(value, places, pull, units, fine) {
    const best = places.filter((place) => Math.abs(place - value) <= pull).sort((a, b) => Math.abs(a - value) - Math.abs(b - value))[0];
    return best ?? lengths.snap(value, units, !fine);
  }
  // Lines of the other corners, which a dragged corner or wall falls in with.
  const linesBeside = (shape, axis, from, moving) => shape.corners.map((corner) => corner[axis])
    .filter((value, place) => !moving.includes(place) && Math.abs(value - from) > least);

  function dragCorner(room, shape, place, to, fine) {
    const pull = reach / room.view.scale, [x, y] = [0, 1].map((axis) =>
      drawnTo(to[axis], linesBeside(shape, axis, shape.corners[place][axis], [place]), pull, shape.units, fine));
    return moveCorner(shape, place, [x, y], room.square);
  }
  function dragWall(room, shape, place, by, fine) {
    const wall = wallsOf(shape.corners)[place], out = dot(by, wall.inward), next = (place + 1) % shape.corners.length;
    const axis = Math.abs(wall.inward[0]) > Math.abs(wall.inward[1]) ? 0 : 1, sign = wall.inward[axis];
    if (Math.abs(Math.abs(sign) - 1) > 1e-6) return moveWall(shape, place, lengths.snap(out, shape.units, !fine), room.square);
    const value = drawnTo(wall.start[axis] + out * sign, linesBeside(shape, axis, wall.start[axis], [place, next]), reach / room.view.scale, shape.units, fine);
    return moveWall(shape, place, (value - wall.start[axis]) * sign, room.square);
  }

  // What was left to the usual place stands at a written one as soon as it is moved.
  function placed(shape, thing, measures) {
    if (Object.entries(measures).some(([name, value]) => Math.abs(thing[name] - value) > 1e-6)) Object.assign(thing, measures, { is_placed: true });
    return shape;
  }
  // Along its wall: into the corners, beside its neighbours, or on the grid.
  function offsetOn(room, shape, thing, wall, offset, list, fine) {
    const others = shape[list].filter((one) => one !== thing && one.at !== thing.at && one.wall === wall.place);
    const places = [0, wall.length - thing.width, ...others.flatMap((one) => [one.offset - thing.width, one.offset + one.width])];
    return clamp(drawnTo(offset, places, reach / room.view.scale, shape.units, fine), 0, wall.length - thing.width);
  }
  // How far a fixture's middle is from where it would be with its back to this wall.
  function missOf(wall, thing, middle) {
    const from = less(middle, wall.start), along = dot(from, wall.along), out = dot(from, wall.inward);
    return Math.hypot(along - clamp(along, thing.width / 2, wall.length - thing.width / 2), out - thing.depth / 2);
  }
  function dragFixture(room, shape, place, by, fine) {
    const moved = copyOf(shape), thing = moved.fixtures.find((one) => one.at === place), walls = wallsOf(shape.corners), own = walls[thing.wall];
    const from = at(own, thing.offset + thing.width / 2, thing.depth / 2), middle = [from[0] + by[0], from[1] + by[1]];
    const fitting = walls.filter((wall) => wall.length >= thing.width - 0.5);
    const shown = walls[room.shown.fixtures.find((one) => one.at === place)?.wall] || own;
    const best = fitting.sort((a, b) => missOf(a, thing, middle) - missOf(b, thing, middle))[0] || own;
    // The wall that it stands at keeps it until another one is plainly nearer.
    const wall = fitting.includes(shown) && missOf(shown, thing, middle) < missOf(best, thing, middle) + least ? shown : best;
    const offset = dot(less(middle, wall.start), wall.along) - thing.width / 2;
    return placed(moved, thing, { wall: wall.place, offset: offsetOn(room, shape, thing, wall, offset, "fixtures", fine) });
  }
  function dragOpening(room, shape, place, by, fine) {
    const moved = copyOf(shape), thing = moved.openings.find((one) => one.at === place), wall = wallsOf(shape.corners)[thing.wall];
    return placed(moved, thing, { offset: offsetOn(room, shape, thing, wall, thing.offset + dot(by, wall.along), "openings", fine) });
  }
  function dragSize(room, shape, kind, place, by, fine) {
    const moved = copyOf(shape), thing = moved[listOf(kind)].find((one) => one.at === place), wall = wallsOf(shape.corners)[thing.wall];
    const pull = reach / room.view.scale;
    const width = clamp(drawnTo(thing.width + dot(by, wall.along), [wall.length - thing.offset], pull, shape.units, fine), least, wall.length - thing.offset);
    const deeper = kind === "fixture" && { depth: Math.max(least, drawnTo(thing.depth + dot(by, wall.inward), [], pull, shape.units, fine)) };
    return placed(moved, thing, { width, ...deeper });
  }
  // The shape after moving what the key names by this many inches right and up.
  function moved(room, shape, key, by, fine) {
    const [what, kind, place] = partsOf(key);
    if (what === "size") return dragSize(room, shape, kind, place, by, fine);
    if (what === "corner") return dragCorner(room, shape, place, [shape.corners[place][0] + by[0], shape.corners[place][1] + by[1]], fine);
    return { wall: dragWall, fixture: dragFixture, opening: dragOpening }[what](room, shape, place, by, fine);
  }

  // By key nothing pulls: a step is a step. Things go along their wall, walls across themselves.
  function nudged(room, shape, key, by) {
    const [what, kind, place] = partsOf(key);
    if (what === "corner") return moveCorner(shape, place, [0, 1].map((axis) => shape.corners[place][axis] + by[axis]), room.square);
    if (what === "wall") return moveWall(shape, place, dot(by, wallsOf(shape.corners)[place].inward), room.square);
    const made = copyOf(shape), thing = made[listOf(kind)].find((one) => one.at === place), wall = wallsOf(shape.corners)[thing.wall];
    if (what !== "size") return placed(made, thing, { offset: clamp(thing.offset + dot(by, wall.along), 0, wall.length - thing.width) });
    const width = clamp(thing.width + dot(by, wall.along), least, wall.length - thing.offset);
    return placed(made, thing, { width, ...(kind === "fixture" && { depth: Math.max(least, thing.depth + dot(by, wall.inward)) }) });
  }
  function removed(room, shape, key) {
    const [, kind, place] = partsOf(key);
    if (kind === "corner" || kind === "wall") return removeCorner(shape, place, room.square);
    const made = copyOf(shape), list = listOf(kind);
    made[list] = made[list].filter((one) => one.at !== place);
    return made;
  }

  function listen(room) {
    const { svg } = room;
    let drag = null;
    const spotOf = (event) => {
      const box = svg.getBoundingClientRect(), part = room.view.width / box.width;
      return room.view.place([(event.clientX - box.left) * part, (event.clientY - box.top) * part]);
    };
    const end = () => { if (drag) svg.classList.remove("dragging"); room.dragging = false; drag = null; };

    // A finger on a handle draws; elsewhere on the plan it scrolls the page.
    svg.addEventListener("touchstart", (event) => { if (event.target.closest("[data-key]")) event.preventDefault(); }, { passive: false });
    svg.addEventListener("pointerdown", (event) => {
      const key = event.target.closest("[data-key]")?.dataset.key;
      if (!key || event.button || drag) return;
      event.preventDefault();
      svg.setPointerCapture(event.pointerId);
      svg.classList.add("by-pointer");
      svg.querySelector(`[data-key="${key}"]`)?.focus({ preventScroll: true });
      drag = { key, from: spotOf(event), at: [event.clientX, event.clientY], shape: room.shape, good: null, word: event.target.closest("text") };
    });
    // What is taken hold of is chosen only now: a finger's touch ends when its element is drawn anew under it.
    svg.addEventListener("pointermove", (event) => {
      if (!drag || (!drag.good && Math.hypot(event.clientX - drag.at[0], event.clientY - drag.at[1]) < tapped)) return;
      if (!room.dragging) room.choose(drag.key.replace(/^size:/, ""));
      room.dragging = true;
      svg.classList.add("dragging");
      const shape = moved(room, drag.shape, drag.key, less(spotOf(event), drag.from), event.shiftKey);
      if (!isSound(shape.corners)) return;
      drag.good = shape;
      room.preview(shape);
    });
    svg.addEventListener("pointerup", () => {
      const { key, good, word } = drag || {};
      end();
      if (key) room.choose(key.replace(/^size:/, ""));
      if (good) room.commit(good, key);
      else if (word) room.openPanel();
    });
    svg.addEventListener("pointercancel", () => { end(); room.preview(room.shape); });
    svg.addEventListener("keydown", (event) => {
      svg.classList.remove("by-pointer");
      const key = event.target.closest("[data-key]")?.dataset.key, way = arrows[event.key];
      if (event.key === "Escape" && drag) { end(); room.preview(room.shape); }
      if (!key || event.ctrlKey || event.metaKey || event.altKey) return;
      if (way) {
        const step = event.shiftKey ? leap[room.shape.units] : lengths.step(room.shape.units);
        room.commit(nudged(room, room.shape, key, way.map((part) => part * step)), key, `arrow ${key}`);
      } else if (event.key === "Delete" || event.key === "Backspace") room.remove(key);
      else if (event.key === "Enter" || event.key === " ") { room.choose(key.replace(/^size:/, "")); room.openPanel(); }
      else return;
      event.preventDefault();
    });
  }

  return { listen, removed, partsOf, listOf };
})();
