// Draws one wall as seen from the room: floor, ceiling, tile, what is cut out and what stands before it, dimensions.
// What can be taken hold of carries data-key, and data-part where only that part of it moves. Nothing is changed here.
"use strict";
window.elevationsDrawing = (() => {
  const { partsOf, labelOf, ceilingAt } = window.elevationsThings;
  const [left, low, right, high] = [0, 1, 2, 3];
  const margin = { left: 30, right: 52, top: 34, bottom: 56 }, touch = 14, dot = 5, knob = 8;
  const reach = { body: "", left: "Left edge", right: "Right edge", low: "Lower edge", high: "Upper edge" };

  function add(parent, name, marks = {}, text = "") {
    const made = parent.appendChild(document.createElementNS("http://www.w3.org/2000/svg", name));
    for (const [mark, value] of Object.entries(marks)) made.setAttribute(mark, typeof value === "number" ? value.toFixed(1) : value);
    if (text) made.textContent = text;
    return made;
  }

  // How inches come to lie on a sheet of this width in pixels; y runs up on the wall and down on the sheet.
  function viewOf(wall, width, tallest) {
    const tall = Math.max(wall.left, wall.right), [across, up] = [width - margin.left - margin.right, tallest - margin.top - margin.bottom];
    const scale = Math.min(across / wall.length, up / tall), side = margin.left + (across - wall.length * scale) / 2;
    return {
      width, scale, height: tall * scale + margin.top + margin.bottom,
      x: (inches) => side + inches * scale, y: (inches) => margin.top + (tall - inches) * scale,
      place: ([x, y]) => [(x - side) / scale, tall - (y - margin.top) / scale],
    };
  }
  const rect = (view, box) => ({ x: view.x(box[left]), y: view.y(box[high]), width: (box[right] - box[left]) * view.scale, height: Math.max(0, box[high] - box[low]) * view.scale });
  const outlineOf = (view, wall) => [[0, 0], [wall.length, 0], [wall.length, wall.right], [0, wall.left]]
    .map(([x, y]) => `${view.x(x).toFixed(1)},${view.y(y).toFixed(1)}`).join(" ");

  // The patterns of wet wall and of what is cut through, and the wall that clips them; ids are the room's own.
  function drawPatterns(svg, state) {
    const made = add(svg, "defs"), { id, view, wall } = state;
    for (const [name, turn, size] of [["wet", 45, 9], ["cut", -45, 5]]) {
      const pattern = add(made, "pattern", { id: `${id}-${name}`, width: size, height: size, patternUnits: "userSpaceOnUse", patternTransform: `rotate(${turn})` });
      add(pattern, "line", { class: `hatch ${name}`, x1: 0, y1: 0, x2: 0, y2: size });
    }
    add(add(made, "clipPath", { id: `${id}-wall` }), "polygon", { points: outlineOf(view, wall) });
  }
  // Wainscot, and wet wall over it; what is cut out of the tile is drawn over both.
  function drawTile(svg, state) {
    const group = add(svg, "g", { "clip-path": `url(#${state.id}-wall)` }), { view, wall } = state;
    for (const edge of state.edges.filter((one) => one.list === "finishes")) add(group, "rect", { class: "wainscot", ...rect(view, edge.box) });
    for (const edge of state.edges.filter((one) => one.list === "wet_zones")) {
      const top = [edge.box[left], 0, edge.box[right], Math.max(wall.left, wall.right, edge.box[high])];
      add(group, "rect", { class: "behind", ...rect(view, top) });
      add(group, "rect", { class: "wet", fill: `url(#${state.id}-wet)`, ...rect(view, edge.box) });
    }
  }

  function handle(parent, state, item, marks) {
    const loose = item.is_noted === false ? " loose" : "";
    return add(parent, "g", { class: `${marks.class}${loose}`, "data-key": item.key, tabindex: "0", role: "button", "aria-label": labelOf(state.wall, item, state.textOf), ...marks.more });
  }
  function drawThing(svg, state, item) {
    const { view } = state, box = rect(view, item.box), kind = item.kind.replace(/\W+/g, "-");
    const group = item.key ? handle(svg, state, item, { class: `thing ${item.list} ${kind}` }) : add(svg, "g", { class: `thing ${kind}` });
    add(group, "rect", { class: "face", ...box });
    if (kind === "half-wall") add(group, "rect", { class: "cut", fill: `url(#${state.id}-cut)`, ...box });
    if (item.kind === "window") add(group, "rect", { class: "pane", x: box.x + 4, y: box.y + 4, width: Math.max(0, box.width - 8), height: Math.max(0, box.height - 8) });
    if (item.kind === "door") add(group, "path", { class: "pane", d: `M${box.x.toFixed(1)} ${(box.y + box.height).toFixed(1)} l${box.width.toFixed(1)} ${(-box.height / 2).toFixed(1)} l${(-box.width).toFixed(1)} ${(-box.height / 2).toFixed(1)}` });
    // Small things can be taken hold of around them.
    const more = [box.width, box.height].map((size) => Math.max(0, (2 * touch - size) / 2));
    add(group, "rect", { class: "grip", x: box.x - more[0], y: box.y - more[1], width: box.width + 2 * more[0], height: box.height + 2 * more[1] });
    const turned = box.width < item.name.length * 7 && box.height > box.width;
    // What stands in front is named along its top, clear of what it hides.
    const [x, y] = [box.x + box.width / 2, kind === "half-wall-in-front" && !turned ? box.y + 9 : box.y + box.height / 2];
    if (Math.max(box.width, box.height) > item.name.length * 6.5 && Math.min(box.width, box.height) > 11) {
      add(group, "text", { x, y, ...(turned ? { transform: `rotate(-90 ${x.toFixed(1)} ${y.toFixed(1)})` } : {}) }, item.name);
    }
  }
  // Handles of the chosen thing stand off its edges, so that a finger tells them from the thing.
  function drawHandles(svg, state, item) {
    const { view } = state, box = rect(view, item.box), [x, y] = [box.x + box.width / 2, box.y + box.height / 2], off = touch - 4;
    const spots = { left: [box.x - off, y, box.x], right: [box.x + box.width + off, y, box.x + box.width], high: [x, box.y - off, box.y], low: [x, box.y + box.height + off, box.y + box.height] };
    for (const part of partsOf(item)) {
      const [cx, cy, edge] = spots[part], level = part === "left" || part === "right";
      const label = `${reach[part]} of the ${item.name}, ${state.textOf(level ? item.box[right] - item.box[left] : item.box[high] - item.box[low])} ${level ? "wide" : "high"}`;
      const group = handle(svg, state, item, { class: "size", more: { "data-part": part, "aria-label": label } });
      add(group, "circle", { class: "grip", cx, cy, r: touch });
      add(group, "line", level ? { class: "stem", x1: edge, y1: y, x2: cx, y2: cy } : { class: "stem", x1: x, y1: edge, x2: cx, y2: cy });
      add(group, "circle", { class: "dot", cx, cy, r: dot });
    }
  }
  // An upper edge is a line with a knob: tile's at its left, wainscot's at its right, the ceiling's in its middle.
  function drawEdge(svg, state, item) {
    const { view, wall } = state, from = view.x(item.box[left]), to = view.x(item.box[right]), y = view.y(item.box[high]);
    const most = item.list === "ceiling" ? 360 : Math.max(wall.left, wall.right);
    const group = handle(svg, state, item, { class: `edge ${item.list}`, more: {
      role: "slider", "aria-orientation": "vertical", "aria-valuemin": "0", "aria-valuemax": String(Math.ceil(most)),
      "aria-valuenow": String(Math.round(item.box[high] * 16) / 16), "aria-valuetext": state.textOf(item.box[high]),
      "aria-label": `Upper edge of the ${item.name}`.replace("Upper edge of the ceiling", "Ceiling height"),
    } });
    const at = { wet_zones: Math.min(from + 18, (from + to) / 2), finishes: Math.max(to - 18, (from + to) / 2), ceiling: (from + to) / 2 }[item.list];
    add(group, "line", { class: "grip", x1: from, y1: y, x2: to, y2: y });
    add(group, "line", { class: "line", x1: from, y1: y, x2: to, y2: y });
    add(group, "circle", { class: "grip", cx: at, cy: y, r: touch });
    add(group, "path", { class: "knob", d: `M${at.toFixed(1)} ${(y - knob).toFixed(1)} l${knob} ${knob} l${-knob} ${knob} l${-knob} ${-knob} z` });
  }

  // A line of lengths between places: along the wall below it, up the wall beside it.
  function drawChain(svg, state, places, at, upright, kind) {
    const { view } = state, spot = upright ? view.y : view.x, group = add(svg, "g", { class: `chain ${kind}` });
    const sorted = [...new Set(places.map((place) => Math.round(place * 1e3) / 1e3))].sort((a, b) => a - b);
    const line = (a, b) => add(group, "line", upright ? { x1: a[0], y1: a[1], x2: b[0], y2: b[1] } : { x1: a[1], y1: a[0], x2: b[1], y2: b[0] });
    sorted.forEach((place, nth) => {
      line([at - 4, spot(place)], [at + 4, spot(place)]);
      if (!nth) return;
      const [a, b] = [spot(sorted[nth - 1]), spot(place)], text = state.textOf(place - sorted[nth - 1]), middle = (a + b) / 2;
      line([at, a], [at, b]);
      if (Math.abs(b - a) < text.length * 6.4) return;
      const [x, y] = upright ? [at + 9, middle] : [middle, at + 10];
      add(group, "text", { x, y, ...(upright ? { transform: `rotate(-90 ${x.toFixed(1)} ${y.toFixed(1)})` } : {}) }, text);
    });
  }
  function drawSizes(svg, state) {
    const { view, wall } = state, isChosen = (item) => item.key && item.key === state.chosen, [floor, end] = [view.y(0), view.x(wall.length)];
    const chosen = state.things.find(isChosen), edge = state.edges.find(isChosen), own = chosen || edge ? "own" : "";
    const cut = state.things.filter((item) => ["openings", "niches"].includes(item.list)), shown = chosen ? [chosen] : cut;
    const top = chosen ? Math.min(ceilingAt(wall, chosen.box[left]), ceilingAt(wall, chosen.box[right])) : wall.right;
    const levels = (edge ? [edge] : shown).flatMap((item) => [item.box[low], item.box[high]]);
    if (!own) levels.push(...state.edges.map((one) => Math.min(one.box[high], wall.right)));
    if (shown.length) drawChain(svg, state, [0, wall.length, ...shown.flatMap((item) => [item.box[left], item.box[right]])], floor + 10, false, chosen ? own : "");
    drawChain(svg, state, [0, wall.length], floor + (shown.length ? 32 : 10), false, "");
    if (levels.some((level) => level > 0 && level < wall.right)) drawChain(svg, state, [0, top, ...levels], end + 10, true, own);
    drawChain(svg, state, [0, wall.right], end + (levels.length ? 32 : 10), true, "");
    if (wall.left !== wall.right) drawChain(svg, state, [0, wall.left], view.x(0) - 22, true, "");
    const first = view.x(wall.is_mirrored ? wall.length : 0);
    add(svg, "path", { class: "first", d: `M${first.toFixed(1)} ${floor.toFixed(1)} l5 8 h-10 z` });
  }

  // What is chosen, with its handles and its lengths; all else stays, and with it the focus.
  function mark(svg, state) {
    svg.querySelector(".marks")?.remove();
    for (const group of svg.querySelectorAll("[data-key]")) {
      const chosen = group.dataset.key === state.chosen;
      group.classList.toggle("chosen", chosen);
      if (group.matches(".thing")) group.setAttribute("aria-pressed", String(chosen));
    }
    const marks = add(svg, "g", { class: "marks" }), chosen = state.things.find((item) => item.key && item.key === state.chosen);
    drawSizes(marks, state);
    if (chosen) drawHandles(marks, state, chosen);
  }
  // Draw anew; the handle that had the focus has it again. state: id, wall, things, edges, view, chosen, textOf.
  function draw(svg, state) {
    const { view, wall } = state, held = svg.contains(document.activeElement) ? document.activeElement.dataset : null;
    svg.replaceChildren();
    for (const [mark, value] of [["viewBox", `0 0 ${view.width} ${view.height.toFixed(1)}`], ["width", view.width], ["height", view.height.toFixed(1)]]) svg.setAttribute(mark, value);
    const heights = wall.left === wall.right ? state.textOf(wall.left) : `${state.textOf(wall.left)} at the left, ${state.textOf(wall.right)} at the right`;
    svg.setAttribute("aria-label", `Wall ${wall.name} seen from the room, ${state.textOf(wall.length)} long, ceiling ${heights}`);
    drawPatterns(svg, state);
    add(svg, "polygon", { class: "wall-face", points: outlineOf(view, wall) });
    drawTile(svg, state);
    for (const item of state.things) drawThing(svg, state, item);
    add(svg, "polygon", { class: "wall-outline", points: outlineOf(view, wall) });
    for (const item of state.edges) drawEdge(svg, state, item);
    for (const [x, name, side] of [[0, wall.beside[0], "start"], [wall.length, wall.beside[1], "end"]]) {
      add(svg, "text", { class: `beside ${side}`, x: view.x(x), y: 14 }, side === "start" ? `← ${name}` : `${name} →`);
    }
    add(svg, "text", { class: "beside", x: view.x(wall.length / 2), y: 14 }, `Wall ${wall.name}`);
    mark(svg, state);
    if (held) [...svg.querySelectorAll("[data-key]")].find((one) => one.dataset.key === held.key && one.dataset.part === held.part)?.focus({ preventScroll: true });
  }

  return { draw, mark, viewOf };
})();
