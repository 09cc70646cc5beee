// Draws a room's shape as SVG: walls with names and lengths, corners and sizes as handles. Nothing is changed here.
// What can be taken hold of carries data-key: "wall:0", "corner:2", "fixture:1", "opening:0", "size:fixture:1".
"use strict";
window.outlineDrawing = (() => {
  const { wallsOf, at, footprint } = window.outlineShape;
  const margin = 36, labelOut = 20, letter = 7, touch = 14, dot = 5;
  const names = { cased: "cased opening" };
  const wordFor = (kind) => names[kind] || kind;
  const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

  function add(parent, name, marks = {}, text = "") {
    const made = parent.appendChild(document.createElementNS("http://www.w3.org/2000/svg", name));
    for (const [mark, value] of Object.entries(marks)) made.setAttribute(mark, value);
    made.textContent = text;
    return made;
  }

  // How inches come to lie on a sheet of this width and at most this height in pixels; y runs up in the room and down on the sheet.
  function viewOf(corners, width, tallest) {
    const [xs, ys] = [0, 1].map((axis) => corners.map((corner) => corner[axis]));
    const [left, top] = [Math.min(...xs), Math.max(...ys)];
    const [wide, high] = [Math.max(...xs) - left, top - Math.min(...ys)];
    const scale = Math.min((width - 2 * margin) / wide, (tallest - 2 * margin) / high);
    const side = (width - wide * scale) / 2;
    return {
      width, height: high * scale + 2 * margin, scale,
      spot: ([x, y]) => [side + (x - left) * scale, margin + (top - y) * scale],
      place: ([x, y]) => [left + (x - side) / scale, top - (y - margin) / scale],
    };
  }

  const points = (view, places) => places.map((place) => view.spot(place).map((value) => value.toFixed(1)).join(",")).join(" ");
  const isHeld = (state, key) => state.chosen === key || state.chosen === key.replace(/^size:/, "");

  // What is drawn of one handle. Its element stays from one drawing to the next, so that it keeps the focus.
  function handle(state, key, label, kind) {
    const group = state.old.get(key) || document.createElementNS("http://www.w3.org/2000/svg", "g");
    const marks = { class: `${kind}${isHeld(state, key) ? " chosen" : ""}`, "data-key": key, tabindex: 0, role: "button", "aria-label": label };
    for (const [mark, value] of Object.entries(marks)) if (group.getAttribute(mark) !== String(value)) group.setAttribute(mark, value);
    group.replaceChildren();
    state.parts.push(group);
    return group;
  }
  // The parts in their order under the parent; those that were there stay where they are.
  function settle(parent, parts) {
    for (const old of [...parent.childNodes]) if (!parts.includes(old)) old.remove();
    let next = parent.firstChild;
    for (const part of parts) {
      if (part === next) next = next.nextSibling;
      else parent.insertBefore(part, next);
    }
  }
  // Words beside a stretch of wall, out from it in pixels, turned so that they can be read.
  function words(parent, view, wall, [reach, out, text], kind) {
    const [x, y] = view.spot(at(wall, reach, out / view.scale));
    let turn = Math.atan2(-wall.along[1], wall.along[0]) * 180 / Math.PI;
    if (turn > 89.9 || turn <= -90.1) turn += turn > 0 ? -180 : 180;
    return add(parent, "text", { class: kind, x: x.toFixed(1), y: y.toFixed(1), transform: `rotate(${turn.toFixed(1)} ${x.toFixed(1)} ${y.toFixed(1)})` }, text);
  }

  function drawWall(state, view, wall) {
    const length = state.textOf(wall.length);
    const group = handle(state, `wall:${wall.place}`, `Wall ${wall.name}, ${length}`, "wall");
    const line = points(view, [wall.start, wall.end]);
    add(group, "polyline", { class: "grip", points: line });
    add(group, "polyline", { class: "line", points: line });
    // A length that is longer than its wall would run into its neighbour's: it is said while the wall is chosen.
    const full = `${wall.name}  ${length}`, fits = isHeld(state, `wall:${wall.place}`) || full.length * letter < wall.length * view.scale + letter;
    words(group, view, wall, [wall.length / 2, -labelOut, fits ? full : wall.name], "name");
  }

  function drawFixture(state, view, fixture, wall) {
    const corners = footprint(wall, fixture);
    const label = `${capital(fixture.kind)} at wall ${wall.name}, ${state.textOf(fixture.offset)} from its first corner, ${state.textOf(fixture.width)} by ${state.textOf(fixture.depth)}`;
    const group = handle(state, `fixture:${fixture.at}`, label, "fixture");
    add(group, "polygon", { points: points(view, corners) });
    const [x, y] = view.spot(at(wall, fixture.offset + fixture.width / 2, fixture.depth / 2));
    add(group, "text", { x: x.toFixed(1), y: y.toFixed(1) }, fixture.kind);
  }
  function drawOpening(state, view, opening, wall) {
    const ends = [at(wall, opening.offset), at(wall, opening.offset + opening.width)];
    const label = `${capital(wordFor(opening.kind))} in wall ${wall.name}, ${state.textOf(opening.offset)} from its first corner, ${state.textOf(opening.width)} wide`;
    const group = handle(state, `opening:${opening.at}`, label, `opening ${opening.kind}`);
    add(group, "polyline", { class: "grip", points: points(view, ends) });
    add(group, "polyline", { class: "gap", points: points(view, ends) });
    const jamb = 5 / view.scale;
    for (const reach of [opening.offset, opening.offset + opening.width]) {
      add(group, "polyline", { class: "jamb", points: points(view, [at(wall, reach, -jamb), at(wall, reach, jamb)]) });
    }
    for (const out of { window: [-2, 2], door: [0], cased: [] }[opening.kind]) {
      add(group, "polyline", { class: "jamb", points: points(view, [opening.offset, opening.offset + opening.width].map((reach) => at(wall, reach, out / view.scale))) });
    }
  }
  // Of the chosen thing: how far it is from both corners of its wall, and a handle for its size.
  function drawSizes(sheet, state, view, thing, wall, list) {
    const end = thing.offset + thing.width, out = list === "fixture" ? 11 : 16;
    for (const [from, to] of [[0, thing.offset], [end, wall.length]]) {
      if ((to - from) * view.scale > 26) words(sheet, view, wall, [(from + to) / 2, out, state.textOf(to - from)], "gap-length");
    }
    if (!thing.depth || thing.depth * view.scale > 60) words(sheet, view, wall, [(thing.offset + end) / 2, out, state.textOf(thing.width)], "gap-length");
    const spot = at(wall, end, thing.depth || 0);
    const group = handle(state, `size:${list}:${thing.at}`, `Size of the ${wordFor(thing.kind)}`, "size");
    const [cx, cy] = view.spot(spot).map((value) => value.toFixed(1));
    add(group, "circle", { class: "grip", cx, cy, r: touch });
    add(group, "circle", { class: "dot", cx, cy, r: dot });
  }
  function drawCorner(state, view, corner, place) {
    const label = `Corner ${place + 1}, ${state.textOf(corner[0])} from left, ${state.textOf(corner[1])} up`;
    const group = handle(state, `corner:${place}`, label, "corner");
    const [x, y] = view.spot(corner);
    add(group, "circle", { class: "grip", cx: x.toFixed(1), cy: y.toFixed(1), r: touch });
    add(group, "rect", { class: "dot", x: (x - dot).toFixed(1), y: (y - dot).toFixed(1), width: 2 * dot, height: 2 * dot });
  }

  // Draw anew. given: shape, chosen, textOf, view.
  function draw(svg, given) {
    const { shape, view } = given, walls = wallsOf(shape.corners);
    const state = { ...given, parts: [], old: new Map([...svg.querySelectorAll("[data-key]")].map((group) => [group.dataset.key, group])) };
    for (const [mark, value] of [["viewBox", `0 0 ${view.width} ${view.height}`], ["width", view.width], ["height", view.height]]) svg.setAttribute(mark, value);
    const sizes = document.createElementNS("http://www.w3.org/2000/svg", "g");
    const fixed = document.createElementNS("http://www.w3.org/2000/svg", "g");
    for (const half of shape.half_walls || []) {
      if (walls[half.wall]) add(fixed, "polygon", { class: "half-wall", points: points(view, footprint(walls[half.wall], half)) });
    }
    const placed = shape.fixtures.filter((fixture) => walls[fixture.wall]);
    for (const fixture of placed) drawFixture(state, view, fixture, walls[fixture.wall]);
    for (const wall of walls) drawWall(state, view, wall);
    for (const opening of shape.openings) if (walls[opening.wall]) drawOpening(state, view, opening, walls[opening.wall]);
    shape.corners.forEach((corner, place) => drawCorner(state, view, corner, place));
    for (const [list, things] of [["fixture", placed], ["opening", shape.openings]]) {
      const thing = things.find((one) => state.chosen === `${list}:${one.at}`);
      if (thing && walls[thing.wall]) drawSizes(sizes, state, view, thing, walls[thing.wall], list);
    }
    settle(svg, [...state.parts.filter((part) => !part.matches(".size")), fixed, sizes, ...state.parts.filter((part) => part.matches(".size"))]);
  }

  return { draw, viewOf, wordFor, capital };
})();
