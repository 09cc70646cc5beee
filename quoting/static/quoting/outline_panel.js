// Under the drawing: typed lengths of what is chosen, and the buttons that add, remove, undo.
"use strict";
window.outlinePanel = (() => {
  const { wallsOf, at, footprint, axisOf, moveCorner, setLength, addCorner, copyOf, nameOf } = window.outlineShape;
  const { wordFor, capital } = window.outlineDrawing;
  const { partsOf, listOf } = window.outlineDrag;
  // Inches that a new thing starts with: width, and depth or height. Common practice, to be changed at once.
  const fixtures = { tub: [60, 30], shower: [36, 36], toilet: [20, 28], vanity: [36, 21], pedestal: [24, 18], linen: [18, 21] };
  const openings = { door: [30, 80], window: [24, 36], cased: [36, 80] };

  const { make, button } = window.drawnRooms;

  // What can be typed of the thing that the key names: label, its inches, and the shape with other inches.
  function measuresOf(room, key) {
    const [, kind, place] = partsOf(key), { shape } = room, walls = wallsOf(shape.corners);
    if (kind === "wall") return walls[place] ? [["Length", walls[place].length, (inches) => setLength(shape, place, inches)]] : [];
    if (kind === "corner") return (shape.corners[place] || []).map((value, axis) => [["From the left", "Up"][axis], value,
      (inches) => moveCorner(shape, place, shape.corners[place].map((old, other) => (other === axis ? inches : old)), room.square), true]);
    const list = listOf(kind), thing = shape[list].find((one) => one.at === place);
    if (!thing) return [];
    const set = (name) => (inches) => {
      const made = copyOf(shape);
      Object.assign(made[list].find((one) => one.at === place), { [name]: inches }, name === "offset" ? { is_placed: true } : {});
      return made;
    };
    const sizes = kind === "fixture" ? ["offset", "width", "depth"] : ["offset", "width"];
    return sizes.map((name) => [name === "offset" ? "From first corner" : capital(name), thing[name], set(name), name === "offset"]);
  }
  function titleOf(room, key) {
    const [, kind, place] = partsOf(key);
    if (kind === "wall") return `Wall ${nameOf(place)}`;
    if (kind === "corner") return `Corner ${place + 1}`;
    const thing = room.shape[listOf(kind)].find((one) => one.at === place);
    return thing ? `${capital(wordFor(thing.kind))}, wall ${nameOf(thing.wall)}` : "";
  }

  function typedLength(room, parent, place) {
    const id = `${room.base.replace(/\W/g, "-")}-typed-${place}`, [label, inches] = measuresOf(room, room.chosen)[place];
    const field = make(parent, "div", { class: "field" });
    make(field, "label", { for: id }, label);
    const error = make(field, "p", { class: "error", id: `${id}-error`, hidden: "" });
    const input = make(field, "input", { id, autocomplete: "off" });
    input.value = room.typedOf(inches);
    input.addEventListener("change", (event) => {
      event.stopPropagation();
      const read = lengths.read(input.value, room.shape.units), [, , changed, zeroOk] = measuresOf(room, room.chosen)[place];
      const bad = Number.isNaN(read) || (!zeroOk && read <= 0);
      if (!bad) room.fields.remember(input.value, room.shape.units);
      const done = !bad && room.commit(changed(read), room.chosen);
      error.hidden = done;
      error.textContent = done ? "" : bad ? `“${input.value}” is no length. Write it like 5' 2 1/2" or 1588 mm.` : "The walls would cross or touch.";
      input.setAttribute("aria-invalid", String(!done));
      input.setAttribute("aria-describedby", done ? "" : error.id);
    });
    // Enter takes the length; it does not send the form.
    input.addEventListener("keydown", (event) => {
      if (event.key !== "Enter") return;
      event.preventDefault();
      input.dispatchEvent(new Event("change", { bubbles: true }));
    });
  }

  // Which wall a thing stands at: another one takes it in as far along as it fits.
  function wallChoice(room, parent, list, place) {
    const id = `${room.base.replace(/\W/g, "-")}-typed-wall`, walls = wallsOf(room.shape.corners), field = make(parent, "div", { class: "field of-wall" });
    make(field, "label", { for: id }, "Wall");
    const select = make(field, "select", { id });
    for (const wall of walls) make(select, "option", { value: wall.place }, wall.name);
    select.value = room.shape[list].find((one) => one.at === place).wall;
    select.addEventListener("change", (event) => {
      event.stopPropagation();
      const made = copyOf(room.shape), thing = made[list].find((one) => one.at === place), wall = wallsOf(made.corners)[select.value];
      Object.assign(thing, { wall: wall.place, offset: Math.max(0, Math.min(thing.offset, wall.length - thing.width)), is_placed: true });
      room.commit(made, room.chosen);
      room.panel.querySelector("select")?.focus();
    });
  }

  // Draw the panel for what is chosen; while that stays, only the lengths that nobody types in are said anew.
  function show(room) {
    const { panel, chosen } = room, title = chosen && titleOf(room, chosen);
    if (title && panel.dataset.shows === title + chosen) {
      measuresOf(room, chosen).forEach(([, inches], place) => {
        const input = panel.querySelectorAll("input")[place];
        if (input.getAttribute("aria-invalid") !== "true") input.value = room.typedOf(inches);
      });
      return;
    }
    panel.replaceChildren();
    panel.dataset.shows = title ? title + chosen : "";
    if (!title) {
      make(panel, "p", { class: "help" }, "Drag walls, corners, fixtures and openings, or tap one to type its size; a wall takes another corner. By key: Tab to one; arrows move it, with Shift further; Enter shows its lengths.");
      return;
    }
    const group = make(panel, "div", { role: "group", "aria-label": title, class: "fine" });
    group.addEventListener("keydown", (event) => { if (event.key === "Escape") room.svg.querySelector(`[data-key="${chosen}"]`)?.focus(); });
    make(group, "b", { class: "draw-title" }, title);
    measuresOf(room, chosen).forEach((_, place) => typedLength(room, group, place));
    const [, kind, place] = partsOf(chosen);
    if (kind === "wall") button(group, "Add corner", () => room.cut(addCorner(room.shape, place, room.square, room.shape.units)), `Add corner on ${title}`);
    else button(group, "Remove", () => room.remove(chosen), `Remove ${title}`);
    if (kind === "fixture" || kind === "opening") {
      wallChoice(room, group, listOf(kind), place);
      button(group, "All its fields", () => room.fields.reveal(`${listOf(kind)}[${place}].kind`), `All fields of the ${title}`);
    }
  }

  const boxOf = (places) => [0, 1].map((axis) => [Math.min(...places.map((place) => place[axis])), Math.max(...places.map((place) => place[axis]))]);
  const overlap = (one, other) => [0, 1].every((axis) => one[axis][0] < other[axis][1] - 0.1 && other[axis][0] < one[axis][1] - 0.1);
  // A wall and offset where a thing of this size stands clear of the others: from the chosen wall on.
  function freePlace(room, thing) {
    const { shape } = room, walls = wallsOf(shape.corners), [what, , place] = room.chosen ? partsOf(room.chosen) : [];
    const first = what === "wall" ? place : 0;
    const standing = shape.fixtures.filter((one) => walls[one.wall]).map((one) => boxOf(footprint(walls[one.wall], one)));
    for (const step of walls.keys()) {
      const wall = walls[(first + step) % walls.length], spare = wall.length - thing.width;
      const holes = shape.openings.filter((one) => one.wall === wall.place && (one.kind !== "window" || !thing.depth));
      const ends = [...shape.fixtures, ...shape.openings].filter((one) => one.wall === wall.place).map((one) => one.offset + one.width);
      const corners = shape.fixtures.filter((one) => one.wall !== null).map((one) => one.depth);
      const offset = [0, ...ends, ...corners, spare].sort((a, b) => a - b).filter((from) => from >= -0.01 && from <= spare + 0.01).find((from) => {
        const box = boxOf(footprint(wall, { ...thing, offset: from, depth: thing.depth || 1 }));
        return !standing.some((other) => overlap(box, other)) && !holes.some((hole) => hole.offset < from + thing.width && from < hole.offset + hole.width);
      });
      if (offset !== undefined && axisOf(wall) >= 0) return { wall: wall.place, offset: Math.max(0, offset) };
    }
    return { wall: first, offset: 0 };
  }
  function addThing(room, kind) {
    const list = kind in fixtures ? "fixtures" : "openings", [width, other] = (fixtures[kind] || openings[kind]).map((inches) => lengths.snap(inches, room.shape.units));
    const row = room.fields.freeRow(list);
    if (row === null) return room.say(`No more than 20 ${list} fit the form.`);
    const thing = { at: row, kind, width, is_placed: true, [list === "fixtures" ? "depth" : "height"]: other };
    const made = copyOf(room.shape);
    made[list].push({ ...thing, ...freePlace(room, thing) });
    const key = `${list === "fixtures" ? "fixture" : "opening"}:${row}`;
    room.chosen = key;
    return room.commit(made, key);
  }
  function placeThing(room, thing) {
    const made = copyOf(room.shape);
    Object.assign(made.fixtures.find((one) => one.at === thing.at), freePlace(room, thing), { is_placed: true });
    room.chosen = `fixture:${thing.at}`;
    room.commit(made, room.chosen);
  }

  // The row of buttons, made once; `refresh` brings them up to date.
  function makeTools(room) {
    const { tools } = room;
    const undo = button(tools, "Undo", () => room.undo()), redo = button(tools, "Redo", () => room.redo());
    const square = button(tools, "Square", () => { room.square = !room.square; refresh(); }, "Keep corners square");
    const adds = make(tools, "details", { class: "draw-adds" });
    make(adds, "summary", {}, "Add fixture or opening");
    const list = make(adds, "div", { class: "actions" });
    for (const kind of [...Object.keys(fixtures), ...Object.keys(openings)]) button(list, capital(wordFor(kind)), () => addThing(room, kind), `Add ${wordFor(kind)}`);
    const loose = make(tools, "p", { class: "draw-loose actions" });
    function refresh() {
      undo.disabled = !room.done.length;
      redo.disabled = !room.undone.length;
      square.hidden = adds.hidden = !room.shape?.corners.length;
      square.setAttribute("aria-pressed", String(room.square));
      loose.replaceChildren();
      for (const thing of (room.shape?.fixtures || []).filter((one) => one.wall === null)) {
        button(loose, `Place the ${thing.kind}`, () => placeThing(room, thing));
      }
    }
    return refresh;
  }

  return { show, makeTools };
})();
