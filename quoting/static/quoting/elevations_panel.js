// Beside the drawn wall: the strip of walls, the fields of what is chosen, and the buttons that add, remove, undo.
"use strict";
window.elevationsPanel = (() => {
  const { measuresOf, freeLeft, capital } = window.elevationsThings;
  // Inches that a new thing starts with. Common practice, to be changed at once.
  const openings = { window: { width: 24, height: 36 }, door: { width: 30, height: 80 } };
  const niche = { width: 12, height: 20, depth: 3.5 };

  const { make, button } = window.drawnRooms;
  const idOf = (room, name) => `${room.base.replace(/\W/g, "-")}-${name}`;

  // Walls as tabs: one is in the tab order, arrows go to the others.
  function showStrip(room) {
    const { strip } = room, names = room.shape.walls.map((wall) => wall.name);
    if (strip.children.length !== names.length) {
      strip.replaceChildren();
      names.forEach((name, place) => {
        const tab = make(strip, "button", { type: "button", role: "tab", id: idOf(room, `wall-${name}`), "aria-controls": room.sheet.id, "aria-label": `Wall ${name}` }, name);
        tab.addEventListener("click", () => room.turn(place));
        tab.addEventListener("keydown", (event) => {
          const to = { ArrowRight: place + 1, ArrowLeft: place - 1, Home: 0, End: names.length - 1 }[event.key];
          if (to === undefined) return;
          event.preventDefault();
          room.turn((to + names.length) % names.length);
          strip.children[room.place].focus();
        });
      });
    }
    [...strip.children].forEach((tab, place) => {
      tab.setAttribute("aria-selected", String(place === room.place));
      tab.tabIndex = place === room.place ? 0 : -1;
    });
    room.sheet.setAttribute("aria-labelledby", strip.children[room.place].id);
  }

  // The chosen thing's own fields of the form, said again here: what is typed goes there as it is.
  function typed(room, parent, [label, name, inches]) {
    const id = idOf(room, `say-${name.replace(/\W/g, "-")}`), field = make(parent, "div", { class: "field" });
    make(field, "label", { for: id }, label);
    const input = make(field, "input", { id, autocomplete: "off", "data-says": name });
    say(room, input, inches);
    input.addEventListener("change", (event) => {
      event.stopPropagation();
      room.type(input.dataset.says, input.value);
    });
    // Enter takes the length; it does not send the form.
    input.addEventListener("keydown", (event) => {
      if (event.key !== "Enter") return;
      event.preventDefault();
      input.dispatchEvent(new Event("change", { bubbles: true }));
    });
  }
  function say(room, input, inches) {
    input.value = room.fields.control(input.dataset.says)?.value || "";
    input.placeholder = room.textOf(Math.max(0, inches));
  }
  // An upper edge's field depends on where its height is noted.
  const measures = (room, item) => (item.is_edge
    ? [[item.list === "ceiling" ? "Height" : "Upper edge", room.fieldOf(item), item.box[3]]]
    : measuresOf(room.seen().wall, item)).filter(([, name]) => room.fields.control(name) || item.list === "wet_zones");

  function titleOf(room, item) {
    const title = capital(item.name);
    return item.is_edge && item.list !== "wet_zones" ? title : `${title}, wall ${room.seen().wall.name}`;
  }
  // Draw the panel for what is chosen; while that stays, only the texts are said anew.
  function show(room) {
    const { panel } = room, item = room.itemOf(room.chosen), title = item ? titleOf(room, item) : "";
    const said = item ? measures(room, item) : [], shows = item ? [title, item.key, item.count || 1, ...said.map(([label]) => label)].join() : "";
    if (shows && panel.dataset.shows === shows) {
      [...panel.querySelectorAll("input")].forEach((input, place) => {
        [, input.dataset.says] = said[place];
        if (document.activeElement !== input) say(room, input, said[place][2]);
      });
      return;
    }
    panel.replaceChildren();
    panel.dataset.shows = shows;
    if (!item) {
      make(panel, "p", { class: "help" }, "Tap a thing on the wall, then drag it or type its place. By key: Tab to it, then the arrows; with Shift they go further. ▲ marks the corner from which places are counted.");
      return;
    }
    const group = make(panel, "div", { role: "group", "aria-label": title, class: "fine" });
    make(group, "b", { class: "draw-title" }, title);
    if (item.count > 1) {
      make(group, "p", { class: "help draw-title" }, `${item.count} niches share a row. A place belongs to one niche, so each needs a row of its own.`);
      button(group, "Give each its own row", () => room.split(item));
    }
    for (const measure of said) typed(room, group, measure);
    if (["openings", "niches"].includes(item.list)) button(group, "Remove", () => room.remove(item.key), `Remove ${title}`);
    button(group, "To its fields", () => room.goTo(item));
  }

  function addOpening(room, kind) {
    const { wall, things } = room.seen(), size = openings[kind], { units } = room.shape;
    const inTheWay = things.filter((item) => item.list === "openings" || item.list === "niches" || (kind === "door" && item.key));
    const [width, height] = [size.width, size.height].map((inches) => lengths.snap(inches, units));
    const left = freeLeft(wall, inTheWay.map((item) => item.box), width);
    const offset = lengths.snap(Math.max(0, wall.is_mirrored ? wall.length - left - width : left), units);
    room.add("openings", { kind, wall: wall.name, width: room.textOf(width), height: room.textOf(height), offset: room.textOf(offset) });
  }
  // Its place is chosen by the server: it knows the wet wall.
  function addNiche(room) {
    const { wall, edges } = room.seen();
    if (!edges.some((edge) => edge.list === "wet_zones")) {
      room.say(`A niche goes into wet wall, and wall ${wall.name} has none.`, true);
      return;
    }
    const sizes = Object.entries(niche).map(([name, inches]) => [name, room.textOf(lengths.snap(inches, room.shape.units))]);
    room.add("niches", { wall: wall.name, ...Object.fromEntries(sizes) });
  }

  // The row of buttons, made once; the answer brings them up to date.
  function makeTools(room) {
    const { tools } = room;
    const undo = button(tools, "Undo", () => room.undo(), "Undo on the walls"), redo = button(tools, "Redo", () => room.redo(), "Redo on the walls");
    for (const kind of Object.keys(openings)) button(tools, `Add ${kind}`, () => addOpening(room, kind), `Add a ${kind} on this wall`);
    button(tools, "Add niche", () => addNiche(room), "Add a niche on this wall");
    const loose = make(tools, "p", { class: "draw-loose help" });
    return () => {
      undo.disabled = !room.done.length;
      redo.disabled = !room.undone.length;
      const rows = room.shape?.loose || [];
      loose.textContent = rows.length ? `On no wall yet: ${rows.map((row) => `niche in row ${row + 1}`).join(", ")}. Write its wall, or give the tub or shower its wall.` : "";
      loose.hidden = !rows.length;
    };
  }

  return { show, showStrip, makeTools };
})();
